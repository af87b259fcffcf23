import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { designPlan } from '../../../src/core/design';
import { readGeoJson } from '../../../src/core/exchange';
import type { PlanPoint } from '../../../src/core/geometry';
import { type Plan, readPlan } from '../../../src/core/plan';
import { isLong } from '../../faults/amounts';
import { planWithSource } from './made';
import { buriedIn, depthInsideM, standingOn } from './standing';

const fileOf = (name: string) => readFileSync(new URL(`../../../${name}`, import.meta.url), 'utf8');
const planFile = (name: string): Plan => {
  const read = readPlan(fileOf(name), name);
  if (!read.ok) throw new Error(`${name} cannot be read`);
  return read.value;
};
/** A bed file with water beside its bed, or in the middle of it. */
const bedFile = (name: string, sourceAt: PlanPoint): Plan => {
  const read = readGeoJson(fileOf(`tests/reference/beds/${name}.geojson`), { fileName: name });
  if (!read.ok) throw new Error(`${name} cannot be read`);
  return { ...read.value, sources: planWithSource(sourceAt).sources };
};
const supplyOf = (plan: Plan) => designPlan(plan, typicalCatalog, { quality: 'preview' }).supply;
const demonstration = planFile('assets/demonstration.rillsheet.json');
const demonstrated = supplyOf(demonstration);

/** An acre with forty obstacles, its water before its front and beyond its eastern side. */
const ACRES: readonly (readonly [string, () => Plan, number])[] = [
  ['an acre fed from the south', () => bedFile('21-acre40', { x: 3.9, y: -3 }), 40],
  ['an acre fed from the east', () => bedFile('21-acre40', { x: 90, y: 30 }), 40],
];

/** Every plan of the tests on which something stands, designed whole. */
const PLANS: readonly (readonly [string, () => Plan, number])[] = [
  ['the demonstration', () => demonstration, 2],
  ['the example plan', () => planFile('assets/schema/examples/plan.json'), 1],
  ['the plan of version 1', () => planFile('tests/core/plan/fixtures/version-1.rillsheet.json'), 0],
  ['a courtyard', () => bedFile('07-ring-courtyard', { x: 0, y: -10 }), 1],
  ['a bed round a tree', () => bedFile('12-one-tree', { x: 4, y: 3 }), 1],
  ['a bed with ten trees', () => bedFile('14-ten-trees', { x: 8.5, y: 4.3 }), 10],
  ['a parking island', () => bedFile('15-parking-island', { x: 0, y: -5.3 }), 3],
  ['a curved bed', () => bedFile('19-organic200', { x: 1.2, y: 9.4 }), 2],
  ['a bed cut open to its edge', () => bedFile('29-hostile-hole-touch', { x: 3.5, y: -3 }), 1],
  // An acre takes the better part of a minute to design: it is held in the long run, `npm run faults -- tests/core/supply/standing.test.ts`.
  ...(isLong ? ACRES : []),
];

describe('nothing of the supply lies in a building, an obstacle or a trunk', () => {
  it.each(PLANS)('%s', (_name, make, fewest) => {
    const plan = make();
    const supply = plan === demonstration ? demonstrated : supplyOf(plan);
    expect(standingOn(plan).length).toBeGreaterThanOrEqual(fewest);
    expect(supply.zones.length).toBeGreaterThan(0);
    expect(buriedIn(plan, supply)).toEqual([]);
    // A header that is not drawn crosses nothing.
    const problems = [...supply.problems, ...supply.zones.flatMap((zone) => zone.problems)];
    expect(problems.filter(({ code }) => code === 'supply.no-way-to-bed')).toEqual([]);
  });

  it('and the check finds a trench, a box and a drain point that do', () => {
    const plan = demonstration;
    const supply = demonstrated;
    const house = standingOn(plan).find(({ id }) => id === 'house')!.ring;
    const inside = { x: 10, y: 22 };
    // The house stands from x = 3.048 to 17.0688 and from y = 18.8976 to 26.2128: 3.102 m to its front, 4.213 to its back.
    expect(depthInsideM(inside, house)).toBeCloseTo(22 - 18.8976, 6);
    const [zone, ...others] = supply.zones;
    const through = {
      ...zone!.pipes[0]!,
      path: [
        { x: 10, y: 15 },
        { x: 10, y: 30 },
      ],
    };
    const moved = {
      ...zone!,
      assemblyAt: inside,
      pipes: [through],
      drains: [{ ...zone!.drains[0]!, at: inside }],
    };
    const found = buriedIn(plan, { ...supply, zones: [moved, ...others] });
    expect(found.map((line) => line.replace(/ lies.*/, ''))).toEqual([
      through.id,
      `box of ${zone!.id}`,
      zone!.drains[0]!.nodeId,
    ]);
  });
});

describe('sleeves of the demonstration', () => {
  it('are one for each time a header, a main or a wire passes under the joined walk and apron, counted along the way', () => {
    const supply = demonstrated;
    const paved = Object.values(demonstration.structures).flatMap(({ kind, shape }) =>
      kind === 'paving' && shape.kind === 'area' ? [shape.rings[0]!] : [],
    );
    const isPaved = (p: PlanPoint) => paved.some((ring) => depthInsideM(p, ring) > 0.02);
    const passes = (path: readonly PlanPoint[]): number => {
      let count = 0;
      let wasPavedAgo = Number.POSITIVE_INFINITY;
      path.slice(1).forEach((b, i) => {
        const a = path[i]!;
        const lengthM = Math.hypot(b.x - a.x, b.y - a.y);
        for (let at = 0; at <= lengthM; at += 0.01) {
          const t = at / lengthM;
          const is = isPaved({ x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t });
          // The seam of walk and apron is no way out: only 0.1 m of open ground is.
          if (is && wasPavedAgo > 0.1) count++;
          wasPavedAgo = is ? 0 : wasPavedAgo + 0.01;
        }
      });
      return count;
    };
    const pipes = [...supply.main, ...supply.zones.flatMap((zone) => zone.pipes)];
    const crossings = pipes.reduce((sum, { path }) => sum + passes(path), 0);
    const sleeves = [...supply.sleeves, ...supply.zones.flatMap((zone) => zone.sleeves)];
    // By hand on the drawing: only the header of the bed at the house goes under the walk and its apron, once.
    expect(crossings).toBe(1);
    expect(sleeves.filter(({ carries }) => carries === 'pipe')).toHaveLength(1);
    // The controller hangs at the house: of the wires, those that do not follow that header cross once, in one more sleeve.
    const wires = supply.wires.filter(({ path }) => passes(path) > 0);
    expect(wires.length).toBeGreaterThan(0);
    expect(sleeves.filter(({ carries }) => carries === 'wire')).toHaveLength(1);
  });
});
