import { describe, expect, it } from 'vitest';
import { findCatch, pointFrom, SegmentIndex, sagittaThrough, squareFoot } from '../../../src/core/geometry';

/** Two lines that cross at (5, 0): one along x from 0 to 10, one along y from -5 to 5. */
const crossing = SegmentIndex.ofPaths([
  [
    { x: 0, y: 0 },
    { x: 10, y: 0 },
  ],
  [
    { x: 5, y: -5 },
    { x: 5, y: 5 },
  ],
]);
const plain = { reachM: 0.5, from: null, gridM: null };

describe('what a pointer catches', () => {
  it('an end within reach wins over the edge that leads to it', () => {
    expect(findCatch(crossing, { x: 9.8, y: 0.1 }, plain)).toMatchObject({
      kind: 'end',
      at: { x: 10, y: 0 },
    });
  });

  it('a middle is caught halfway along an edge', () => {
    const single = SegmentIndex.ofPaths([
      [
        { x: 0, y: 0 },
        { x: 4, y: 2 },
      ],
    ]);
    expect(findCatch(single, { x: 2.1, y: 1.2 }, plain)).toMatchObject({
      kind: 'middle',
      at: { x: 2, y: 1 },
    });
  });

  it('a line drawn from a point is caught square to an edge', () => {
    const caught = findCatch(crossing, { x: 2.2, y: 0.1 }, { ...plain, from: { x: 2, y: 3 } });
    expect(caught).toMatchObject({ kind: 'square', at: { x: 2, y: 0 } });
  });

  it('nothing is caught out of reach, unless the grid is on', () => {
    expect(findCatch(crossing, { x: 2.4, y: 3.4 }, plain)).toBeNull();
    const gridded = findCatch(crossing, { x: 2.4, y: 3.4 }, { ...plain, reachM: 0.7, gridM: 1 });
    expect(gridded).toMatchObject({ kind: 'grid', at: { x: 2, y: 3 } });
  });

  it('only along a curve is a catch, not the ends of its chords', () => {
    const curved = findCatch(crossing, { x: 9.8, y: 0.1 }, { ...plain, isSmooth: () => true });
    expect(curved?.kind).toBe('edge');
  });
});

describe('constructions of a drawing hand', () => {
  it('a 3-4-5 triangle closes', () => {
    // direction of the hypotenuse: atan(4/3), by hand
    const end = pointFrom({ x: 0, y: 0 }, Math.atan2(4, 3), 5);
    expect(end.x).toBeCloseTo(3, 12);
    expect(end.y).toBeCloseTo(4, 12);
  });

  it('the foot of a square lies on the endless line', () => {
    expect(squareFoot({ x: 7, y: 9 }, { x: 0, y: 0 }, { x: 1, y: 0 })).toEqual({ x: 7, y: 0 });
  });

  it('an arc through the top of a half circle is as high as its radius, whichever side it bulges', () => {
    // chord 2 along x, circle of radius 1 about its middle; right of the way from a to b is south
    const [a, b] = [
      { x: -1, y: 0 },
      { x: 1, y: 0 },
    ];
    expect(sagittaThrough(a, b, { x: 0, y: -1 })).toBeCloseTo(1, 12);
    expect(sagittaThrough(a, b, { x: 0, y: 1 })).toBeCloseTo(-1, 12);
    // a point off the middle of the same half circle
    expect(sagittaThrough(a, b, { x: Math.SQRT1_2, y: -Math.SQRT1_2 })).toBeCloseTo(1, 12);
  });
});
