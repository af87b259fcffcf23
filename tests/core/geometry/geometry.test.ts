import { describe, expect, test } from 'vitest';
import {
  arcPoints,
  beginClosedPathAt,
  centroid,
  cleanOutline,
  closeRing,
  distanceBetweenSegmentsM,
  distanceToSegmentM,
  inflatePath,
  innerPoint,
  inPieces,
  inset,
  intersect,
  multiPolygonAreaM2,
  nearestOnPath,
  paperToPlan,
  planToPaper,
  planToScreen,
  pointAlong,
  pointInPolygon,
  polygonAreaM2,
  polylineLengthM,
  ringAreaM2,
  ringLengthM,
  rotatePoint,
  SegmentIndex,
  screenToPlan,
  signedRingAreaM2,
  simplifyRing,
  splitPath,
  subtract,
  unite,
} from '../../../src/core/geometry';

const rectangle = (x: number, y: number, width: number, height: number) => [
  { x, y },
  { x: x + width, y },
  { x: x + width, y: y + height },
  { x, y: y + height },
];
const block = (x: number, y: number, width: number, height: number) => [
  { outer: rectangle(x, y, width, height), holes: [] },
];

describe('areas and lengths', () => {
  test('an anticlockwise ring has a positive area, a clockwise one a negative', () => {
    expect(signedRingAreaM2(rectangle(1, 1, 3, 2))).toBe(6);
    expect(signedRingAreaM2([...rectangle(1, 1, 3, 2)].reverse())).toBe(-6);
  });
  test('a hole is taken off the ground', () => {
    const polygon = { outer: rectangle(0, 0, 4, 4), holes: [[...rectangle(1, 1, 1, 1)].reverse()] };
    expect(polygonAreaM2(polygon)).toBe(15);
    // By hand: (16 * 2 - 1 * 1.5) / 15 on both axes.
    expect(centroid(polygon).x).toBeCloseTo(30.5 / 15, 9);
    expect(pointInPolygon({ x: 1.5, y: 1.5 }, polygon)).toBe(false);
    expect(pointInPolygon({ x: 3.5, y: 1.5 }, polygon)).toBe(true);
  });
  test('the perimeter counts the closing edge once', () => {
    expect(ringLengthM(rectangle(0, 0, 3, 2))).toBe(10);
    expect(polylineLengthM(closeRing(rectangle(0, 0, 3, 2)))).toBe(10);
  });
});

describe('polygons put together and taken apart', () => {
  test('two overlapping beds share the ground of their overlap', () => {
    const a = block(0, 0, 2, 2);
    const b = block(1, 1, 2, 2);
    expect(multiPolygonAreaM2(unite(a, b))).toBeCloseTo(7, 9);
    expect(multiPolygonAreaM2(intersect(a, b))).toBeCloseTo(1, 9);
    expect(multiPolygonAreaM2(subtract(a, b))).toBeCloseTo(3, 9);
  });
  test('a bed shrunk by its offset loses a band all round', () => {
    expect(multiPolygonAreaM2(inset(block(0, 0, 4, 3), 0.5))).toBeCloseTo(6, 9);
    expect(inset(block(0, 0, 4, 0.9), 0.5)).toEqual([]);
  });
  test('the ground within a radius of a path is a stadium', () => {
    const stadium = inflatePath(
      [
        { x: 0, y: 0 },
        { x: 2, y: 0 },
      ],
      0.5,
    );
    // By hand: 2 x 1 and a circle of 0.5.
    expect(ringAreaM2(stadium[0]!)).toBeGreaterThan((2 + Math.PI / 4) * 0.998);
    expect(ringAreaM2(stadium[0]!)).toBeLessThan(2 + Math.PI / 4 + 1e-3);
  });
});

describe('outlines as people draw them', () => {
  test('a bow-tie is two beds', () => {
    const clean = cleanOutline([
      [
        { x: 0, y: 0 },
        { x: 4, y: 4 },
        { x: 4, y: 0 },
        { x: 0, y: 4 },
      ],
    ]);
    expect(clean.parts.map(polygonAreaM2)).toEqual([4, 4]);
    expect(clean.isSplit).toBe(true);
  });
  test('a point clicked twice and a spike leave the bed as it was', () => {
    const clean = cleanOutline([
      [
        { x: 0, y: 0 },
        { x: 0, y: 0 },
        { x: 4, y: 0 },
        { x: 4, y: 2 },
        { x: 2, y: 2 },
        { x: 2, y: 9 },
        { x: 2, y: 2 },
        { x: 0, y: 2 },
        { x: 0, y: 0 },
      ],
    ]);
    expect(clean.parts.map(polygonAreaM2)).toEqual([8]);
    expect(clean.repeatedPoints).toBe(2);
  });
  test('a hole outside the bed is named, one across its edge bites into it', () => {
    const clean = cleanOutline([rectangle(0, 0, 4, 4), rectangle(9, 9, 1, 1), rectangle(3, 1, 2, 2)]);
    expect(clean.holesOutside).toEqual([1]);
    expect(multiPolygonAreaM2(clean.parts)).toBeCloseTo(14, 9);
  });
  test('an outline of no area has no part', () => {
    expect(
      cleanOutline([
        [
          { x: 0, y: 0 },
          { x: 5, y: 0 },
          { x: 2, y: 0 },
        ],
      ]).parts,
    ).toEqual([]);
  });
});

describe('arcs', () => {
  test('a half circle bulges to the right of its edge by its radius', () => {
    const points = arcPoints({ x: 0, y: 0 }, { x: 2, y: 0 }, 1);
    expect(Math.min(...points.map((point) => point.y))).toBeCloseTo(-1, 3);
    for (const point of points) expect(Math.hypot(point.x - 1, point.y)).toBeCloseTo(1, 9);
    expect(polylineLengthM(points)).toBeCloseTo(Math.PI, 2);
  });
  test('more than half a circle comes out with the same radius', () => {
    const points = arcPoints({ x: 0, y: 0 }, { x: 1.6, y: 0 }, -1.6);
    // By hand: chord 1.6, height 1.6: r = 1.6^2 / (8 x 1.6) + 0.8 = 1, centre 0.6 above the chord.
    for (const point of points) expect(Math.hypot(point.x - 0.8, point.y - 0.6)).toBeCloseTo(1, 9);
  });
});

describe('paths', () => {
  const path = [
    { x: 0, y: 0 },
    { x: 3, y: 0 },
    { x: 3, y: 4 },
  ];
  test('a point some way along knows the way the path runs there', () => {
    const point = pointAlong(path, 5);
    expect(point.at).toEqual({ x: 3, y: 2 });
    expect(point.headingRad).toBeCloseTo(Math.PI / 2, 12);
  });
  test('pieces of a cut path add up to the whole', () => {
    const pieces = splitPath(path, [1, 3, 6]);
    expect(pieces.map(polylineLengthM)).toEqual([1, 2, 3, 1]);
  });
  test('the nearest point of a path lies square to it', () => {
    expect(nearestOnPath({ x: 4, y: 1 }, path)).toMatchObject({
      at: { x: 3, y: 1 },
      distanceM: 1,
      alongM: 4,
    });
  });
  test('a closed path begun elsewhere has the same length and closes', () => {
    const closed = closeRing(rectangle(0, 0, 3, 2));
    const turned = beginClosedPathAt(closed, 4);
    expect(turned[0]).toEqual(turned.at(-1));
    expect(turned[0]).toEqual({ x: 3, y: 1 });
    expect(polylineLengthM(turned)).toBeCloseTo(10, 9);
  });
  test('points on the line of their neighbours are dropped', () => {
    expect(
      simplifyRing([{ x: 0, y: 0 }, { x: 1, y: 0.0001 }, ...rectangle(0, 0, 3, 2).slice(1)], 0.001),
    ).toEqual(rectangle(0, 0, 3, 2));
  });
  test('a ring begun in the middle of a side loses that beginning', () => {
    const [a, ...others] = rectangle(0, 0, 3, 2);
    expect(simplifyRing([{ x: 1.5, y: 0.0002 }, ...others, a!], 0.001)).toEqual([...others, a]);
  });
  test('a path in pieces passes every corner and holds no piece longer than asked', () => {
    const pieces = inPieces(rectangle(0, 0, 3, 2), 0.4);
    for (const corner of rectangle(0, 0, 3, 2)) expect(pieces).toContainEqual(corner);
    // By hand: sides of 3, 2 and 3 m make 8, 5 and 8 pieces.
    expect(pieces).toHaveLength(8 + 5 + 8 + 1);
  });
});

describe('distances', () => {
  test('beyond the end of a segment its end is nearest', () => {
    expect(distanceToSegmentM({ x: 5, y: 4 }, { x: 0, y: 0 }, { x: 2, y: 0 })).toBe(5);
  });
  test('crossing segments have no distance', () => {
    expect(distanceBetweenSegmentsM({ x: 0, y: 0 }, { x: 2, y: 2 }, { x: 0, y: 2 }, { x: 2, y: 0 })).toBe(0);
  });
  test('the index finds the nearest edge of a ring', () => {
    const found = SegmentIndex.ofRings([rectangle(0, 0, 10, 1), rectangle(20, 0, 1, 1)]).nearest({
      x: 18,
      y: 0.5,
    });
    expect(found?.segment.chain).toBe(1);
    expect(found?.distanceM).toBe(2);
  });
  test('a label point in an L is on its ground and far from its edges', () => {
    const found = innerPoint({
      outer: [
        { x: 0, y: 0 },
        { x: 6, y: 0 },
        { x: 6, y: 2 },
        { x: 2, y: 2 },
        { x: 2, y: 6 },
        { x: 0, y: 6 },
      ],
      holes: [],
    });
    // By hand: the circle touching both outer sides and the inner corner (2, 2): r = 2 (2 - sqrt 2).
    expect(found?.clearanceM).toBeCloseTo(2 * (2 - Math.SQRT2), 1);
  });
});

describe('spaces', () => {
  test('a metre at 1:50 is twenty millimetres, north is up the sheet', () => {
    const view = { plan: { x: 10, y: 10 }, paper: { x: 100, y: 200 }, scaleDenominator: 50, turnRad: 0 };
    expect(planToPaper({ x: 11, y: 11 }, view)).toEqual({ x: 120, y: 180 });
  });
  test('paper and screen come back to the plan', () => {
    const view = { plan: { x: 3, y: -2 }, paper: { x: 40, y: 70 }, scaleDenominator: 48, turnRad: 0.7 };
    const back = paperToPlan(planToPaper({ x: 5, y: 6 }, view), view);
    expect(back.x).toBeCloseTo(5, 9);
    expect(back.y).toBeCloseTo(6, 9);
    const screen = { plan: { x: 3, y: -2 }, screen: { x: 400, y: 300 }, pixelsPerM: 37 };
    expect(screenToPlan(planToScreen({ x: 5, y: 6 }, screen), screen)).toEqual({ x: 5, y: 6 });
  });
  test('a quarter turn keeps the digits', () => {
    expect(rotatePoint({ x: 0.1, y: 0.7 }, Math.PI / 2)).toEqual({ x: -0.7, y: 0.1 });
  });
});
