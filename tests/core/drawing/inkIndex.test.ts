import { describe, expect, it } from 'vitest';
import { type InkSegment, segmentEnters } from '../../../src/core/drawing/placement/ink';
import { InkIndex } from '../../../src/core/drawing/placement/inkIndex';
import { seededNumbers } from '../../bench/randomBeds';

const random = seededNumbers(7);
const point = () => ({ x: 200 * random(), y: 120 * random() });
const segments: InkSegment[] = Array.from({ length: 300 }, () => {
  const a = point();
  return {
    a,
    b: { x: a.x + 30 * random() - 15, y: a.y + 30 * random() - 15 },
    halfWidthMm: 0.2,
    group: undefined,
  };
});
const index = new InkIndex(segments);

/** Do two straight lines cross at inner points of both? By the signs of four areas, one pair after another. */
function cross(a: InkSegment['a'], b: InkSegment['a'], { a: c, b: d }: InkSegment): boolean {
  const area = (p: InkSegment['a'], q: InkSegment['a'], r: InkSegment['a']): number =>
    (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  return area(a, b, c) * area(a, b, d) < 0 && area(c, d, a) * area(c, d, b) < 0;
}

describe('printed lines found by place', () => {
  it('are all that come into a box, turned or not', () => {
    for (let k = 0; k < 60; k++) {
      const box = {
        ...point(),
        halfWidthMm: 8 * random(),
        halfHeightMm: 3 * random(),
        angleRad: 3 * random(),
      };
      const near = index.near(box);
      for (const segment of segments) if (segmentEnters(box, segment, 0)) expect(near).toContain(segment);
    }
  });

  it('are counted where a leader crosses them, each once, as looking at every one does', () => {
    let seen = 0;
    for (let k = 0; k < 60; k++) {
      const [a, b] = [point(), point()];
      const every = segments.filter((segment) => cross(a, b, segment)).length;
      const counted = index.crossings(a, b, 1e9);
      // A line that only comes within half its stroke of the leader counts as crossed too; at the leader's ends 0.4 mm do not.
      expect(Math.abs(counted - every)).toBeLessThanOrEqual(2);
      expect(index.crossings(a, b, 3)).toBe(Math.min(3, counted));
      seen += every;
    }
    expect(seen).toBeGreaterThan(200);
  });
});
