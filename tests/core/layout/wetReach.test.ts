import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type PlanPoint, pointAlong, polylineLengthM } from '../../../src/core/geometry';
import { worstEmitterDistanceM, worstWetDistanceM } from '../../../src/core/layout';

const run = (path: readonly PlanPoint[]) => ({ path, emittersM: [0.15] });

/** The same figure the long way: the first emitter put at every place a millimetre apart, the nearest emitter measured. */
function bruteForceM(path: readonly PlanPoint[], point: PlanPoint, spacingM: number): number {
  const lengthM = polylineLengthM(path);
  let worst = 0;
  for (let first = 0; first < spacingM; first += 0.001) {
    let nearest = Number.POSITIVE_INFINITY;
    for (let at = first; at <= lengthM; at += spacingM) {
      const emitter = pointAlong(path, at).at;
      nearest = Math.min(nearest, Math.hypot(emitter.x - point.x, emitter.y - point.y));
    }
    worst = Math.max(worst, nearest);
  }
  return worst;
}

describe('the nearest emitter at the worst phase', () => {
  it('is half a spacing along from a plant beside a long row', () => {
    // Computed by hand: 0.2 m beside a straight row of emitters 0.3 m apart, hypot(0.2, 0.15) = 0.25 m.
    expect(
      worstEmitterDistanceM(
        run([
          { x: 0, y: 0 },
          { x: 20, y: 0 },
        ]),
        { x: 10.123, y: 0.2 },
        0.3,
      ),
    ).toBeCloseTo(0.25, 6);
  });

  it('equals the brute force over all phases on any bent run', () => {
    const coordinate = fc.double({ min: -2, max: 2, noNaN: true });
    const place = fc.record({ x: coordinate, y: coordinate });
    fc.assert(
      fc.property(fc.array(place, { minLength: 3, maxLength: 7 }), place, (path, point) => {
        fc.pre(polylineLengthM(path) > 1.2);
        const exact = worstEmitterDistanceM(run(path), point, 0.5);
        const brute = bruteForceM(path, point, 0.5);
        // The brute force steps 1 mm along the run, so it can miss the worst place by half of that.
        expect(exact).toBeGreaterThanOrEqual(brute - 1e-9);
        expect(exact - brute).toBeLessThan(0.0011);
      }),
      { numRuns: 120, seed: 41 },
    );
  });

  it('takes the better of two runs, since their emitters lie independently', () => {
    const near = run([
      { x: 0, y: 0.1 },
      { x: 9, y: 0.1 },
    ]);
    const far = run([
      { x: 0, y: 1 },
      { x: 9, y: 1 },
    ]);
    const point = { x: 4, y: 0 };
    expect(worstWetDistanceM([far, near] as never, point, 0.3)).toBe(worstEmitterDistanceM(near, point, 0.3));
    expect(worstWetDistanceM([], point, 0.3)).toBe(Number.POSITIVE_INFINITY);
  });
});
