import { type Command, emptyPlan, type Plan, plainBed } from '../../../src/core/plan';

const SQUARE = [
  { x: 0, y: 0 },
  { x: 4, y: 0 },
  { x: 4, y: 3 },
  { x: 0, y: 3 },
];

/** The plan that was saved before the drawing went on. */
export function startingPlan(): Plan {
  const edges = SQUARE.map(() => ({ class: null, offsetM: null, sagittaM: 0 }));
  return { ...emptyPlan('garden'), beds: { a: plainBed('a', [{ points: SQUARE, edges }]) } };
}

/** Edit number n: a corner moved to a place that tells the number. */
export const editOf = (n: number): Command => ({
  name: 'move-corner',
  params: { id: 'a', ringIndex: 0, pointIndex: n % 4, to: { x: n / 1000, y: (n % 4) + 0.5 } },
});
