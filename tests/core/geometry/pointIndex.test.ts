import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PointIndex } from '../../../src/core/geometry';

const coordinate = fc.integer({ min: -1000, max: 1000 });
const point = fc.record({ x: coordinate, y: coordinate });

describe('points found by place', () => {
  it('are as far away as those found by looking at every wanted one', () => {
    fc.assert(
      fc.property(
        fc.array(point, { maxLength: 60 }),
        point,
        fc.integer({ min: 1, max: 9 }),
        (points, at, most) => {
          const away = (index: number): number =>
            Math.hypot(points[index]!.x - at.x, points[index]!.y - at.y);
          const isWanted = (index: number): boolean => index % 3 !== 0;
          const near = new PointIndex(points).nearest(at, most, isWanted);
          const all = [...points.keys()]
            .filter(isWanted)
            .map(away)
            .sort((a, b) => a - b);
          expect(near.every(isWanted)).toBe(true);
          expect(near.map(away)).toEqual(all.slice(0, most));
        },
      ),
    );
  });
});
