import { emptyPlan, type Plan, plainBed, plainSource } from '../../src/core/plan';

/** Ten beds of six corners each, in two rows, no two alike, with a measured connection between them. */
export function tenBeds(): Plan {
  const beds: Plan['beds'] = {};
  for (let number = 1; number <= 10; number++) {
    const [x, y] = [((number - 1) % 5) * 12, number > 5 ? 10 : 0];
    const wide = 6 + (number % 4);
    const deep = 4 + (number % 3);
    const points = [
      [0, 0],
      [wide, 0],
      [wide, deep - 1.5],
      [wide - 2, deep - 1.5],
      [wide - 2, deep],
      [0, deep],
    ].map(([east = 0, north = 0]) => ({ x: x + east, y: y + north }));
    const edges = points.map(() => ({ class: null, offsetM: null, sagittaM: 0 }));
    beds[`bed-${number}`] = plainBed(`bed-${number}`, [{ points, edges }]);
  }
  const source = {
    ...plainSource('source-1', { x: -3, y: 8 }),
    staticHeadM: 42,
    flowTestM3s: 0.0006,
    flowTestHeadM: 35,
  };
  return { ...emptyPlan('bench', 'metric'), beds, sources: { 'source-1': source } };
}
