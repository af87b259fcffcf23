import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { sampleGround, samplePoint, squaredDistances } from '../../../src/core/geometry';

const coordinate = fc.integer({ min: 0, max: 600 }).map((value) => value / 100);
const point = fc.record({ x: coordinate, y: coordinate });
const SQUARE = [
  { x: 0, y: 0 },
  { x: 6, y: 0 },
  { x: 6, y: 6 },
  { x: 0, y: 6 },
];

describe('ground as points of a grid', () => {
  test('a 6 x 6 m square at half a metre is 12 x 12 points, each standing for a quarter of a square metre', () => {
    const samples = sampleGround([SQUARE], 0.5, 10_000);
    expect(samples.count).toBe(144);
    expect(samples.count * samples.stepM ** 2).toBeCloseTo(36, 12);
  });

  test('a hole has no points', () => {
    const hole = [
      { x: 2, y: 2 },
      { x: 2, y: 4 },
      { x: 4, y: 4 },
      { x: 4, y: 2 },
    ];
    const samples = sampleGround([SQUARE, hole], 0.1, 10_000);
    // By hand: 36 - 4 m2.
    expect(samples.count * 0.01).toBeCloseTo(32, 6);
  });

  test('no more points than asked for: the step is widened instead', () => {
    const samples = sampleGround([SQUARE], 0.01, 900);
    expect(samples.columns * samples.rows).toBeLessThanOrEqual(900);
    expect(samples.stepM).toBeCloseTo(0.2, 12);
  });

  test('distances to tubing equal those measured point by point, and are infinite beyond the reach', () => {
    fc.assert(
      fc.property(fc.array(point, { minLength: 2, maxLength: 6 }), (path) => {
        const samples = sampleGround([SQUARE], 0.3, 10_000);
        const reachM = 1.1;
        const wrong: number[] = [];
        const square = squaredDistances(samples, [path], reachM);
        square.forEach((found, index) => {
          const { x, y } = samplePoint(samples, index);
          const exactM = Math.min(...path.slice(1).map((b, k) => distanceByHand(x, y, path[k]!, b)));
          const isAsMeasured =
            Math.abs(exactM - reachM) < 1e-9 ||
            (exactM < reachM
              ? Math.abs(Math.sqrt(found) - exactM) < 1e-9
              : found === Number.POSITIVE_INFINITY);
          if (!isAsMeasured) wrong.push(index);
        });
        expect(wrong).toEqual([]);
      }),
      { numRuns: 60, seed: 7 },
    );
  });
});

/** Distance from a point to a segment by walking the segment: the nearest of both ends and the foot where it lies between. */
function distanceByHand(
  x: number,
  y: number,
  a: { x: number; y: number },
  b: { x: number; y: number },
): number {
  const ends = Math.min(Math.hypot(x - a.x, y - a.y), Math.hypot(x - b.x, y - b.y));
  const lengthM = Math.hypot(b.x - a.x, b.y - a.y);
  if (lengthM === 0) return ends;
  const [ux, uy] = [(b.x - a.x) / lengthM, (b.y - a.y) / lengthM];
  const alongM = (x - a.x) * ux + (y - a.y) * uy;
  return alongM > 0 && alongM < lengthM ? Math.abs((x - a.x) * uy - (y - a.y) * ux) : ends;
}
