import { describe, expect, it } from 'vitest';
import { drynessOf, wateringGoal } from '../../../src/core/layout/goal';
import { plainInput } from '../../bench/bedFiles';

const ringOf = (points: { x: number; y: number }[]) => ({
  points,
  edges: points.map(() => ({ class: 'paving' as const, offsetM: 0.0762 })),
});
const square = ringOf([
  { x: 0, y: 0 },
  { x: 4, y: 0 },
  { x: 4, y: 4 },
  { x: 0, y: 4 },
]);
const turned = ringOf(square.points.map(({ x, y }) => ({ x: 0.8 * x - 0.6 * y, y: 0.6 * x + 0.8 * y })));
const triangle = ringOf(square.points.slice(0, 3));
const stone = ringOf([
  { x: 2, y: 2 },
  { x: 2, y: 2.4 },
  { x: 2.4, y: 2.4 },
]);

/** Routing targets (ours): at least 99.5 % within reach and gaps of 0.60 S between straight walls, 0.70 S elsewhere; 99 % and 0.85 S with obstacles. */
describe('how well a bed is to be watered', () => {
  const goal = (...rings: ReturnType<typeof ringOf>[]) => wateringGoal(plainInput('bed', rings));

  it('asks no less than the targets of every kind of bed', () => {
    for (const bed of [goal(square), goal(turned), goal(triangle)])
      expect(bed.coveredRatio).toBeGreaterThan(0.995);
    expect(goal(square, stone).coveredRatio).toBeGreaterThan(0.99);
    expect(goal(square).gapRatio).toBeLessThanOrEqual(0.6);
    expect(goal(triangle).gapRatio).toBeLessThanOrEqual(0.7);
    expect(goal(square, stone).gapRatio).toBeLessThanOrEqual(0.85);
  });

  it('knows straight walls however the bed is turned', () => {
    expect(goal(turned)).toEqual(goal(square));
    expect(goal(triangle)).not.toEqual(goal(square));
  });

  it('is met by what the targets ask, and by nothing a hundredth drier or a tenth of a row wider', () => {
    const asked = goal(triangle);
    expect(drynessOf({ coveredRatio: 0.9955, maxGapM: 0.69 }, asked, 1)).toBe('none');
    expect(drynessOf({ coveredRatio: 0.9855, maxGapM: 0.69 }, asked, 1)).toBe('dry');
    expect(drynessOf({ coveredRatio: 0.9955, maxGapM: 0.8 }, asked, 1)).toBe('wide-gap');
  });
});
