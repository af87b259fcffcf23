import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pullPath } from '../../../src/core/geometry';

const coordinate = fc.double({ min: -50, max: 50, noNaN: true });

describe('a path pulled aside', () => {
  it('moves all the way where it is held and not at all beyond its reach', () => {
    const path = pullPath(
      [
        { x: 0, y: 0 },
        { x: 10, y: 0 },
      ],
      { alongM: 5, dx: 0, dy: 1, reachM: 2, stepM: 0.1 },
    );
    expect(path.find((point) => Math.abs(point.x - 5) < 1e-9)?.y).toBeCloseTo(1, 12);
    // half way out a half cosine wave stands at one half: (1 + cos 90 degrees) / 2
    expect(path.find((point) => Math.abs(point.x - 4) < 1e-6)?.y).toBeCloseTo(0.5, 6);
    expect(path.filter((point) => Math.abs(point.x - 5) >= 2).every((point) => point.y === 0)).toBe(true);
  });

  it('a closed path stays closed and finite wherever it is held', () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ x: coordinate, y: coordinate }), { minLength: 3, maxLength: 8 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        coordinate,
        coordinate,
        (points, share, dx, dy) => {
          const ring = [...points, points[0]!];
          const lengthM = ring
            .slice(1)
            .reduce((sum, p, i) => sum + Math.hypot(p.x - ring[i]!.x, p.y - ring[i]!.y), 0);
          const moved = pullPath(ring, { alongM: share * lengthM, dx, dy, reachM: 1, stepM: 0.2 });
          expect(moved.at(-1)).toEqual(moved[0]);
          expect(moved.every((p) => Number.isFinite(p.x) && Number.isFinite(p.y))).toBe(true);
        },
      ),
      { numRuns: 60 },
    );
  });
});
