import { describe, expect, test } from 'vitest';
import {
  CHORD_TOLERANCE_M,
  distanceToSegmentM,
  inflatePath,
  inflateRings,
  nestRings,
  type PlanPoint,
  pointInRing,
  type Ring,
  reverseRing,
  ringAreaM2,
  signedRingAreaM2,
} from '../../../src/core/geometry';

const square: Ring = [
  { x: 0, y: 0 },
  { x: 4, y: 0 },
  { x: 4, y: 4 },
  { x: 0, y: 4 },
];

const groundM2 = (rings: readonly Ring[]): number =>
  rings.reduce((sum, ring) => sum + signedRingAreaM2(ring), 0);

const isOn = (point: PlanPoint, rings: readonly Ring[]): boolean =>
  rings.filter((ring) => pointInRing(point, ring)).length % 2 === 1;

const toEdgeM = (point: PlanPoint, rings: readonly Ring[]): number =>
  Math.min(
    ...rings.flatMap((ring) =>
      ring.map((a, index) => distanceToSegmentM(point, a, ring[(index + 1) % ring.length]!)),
    ),
  );

/** Rows with round ends, as a comb: straight edges, arcs both ways, ground and gaps narrower than what is taken off. */
function comb(): Ring {
  const arc = (x: number, y: number, radiusM: number, fromRad: number, steps: number, sweepRad: number) =>
    Array.from({ length: steps + 1 }, (_, step) => ({
      x: x + radiusM * Math.cos(fromRad + (sweepRad * step) / steps),
      y: y + radiusM * Math.sin(fromRad + (sweepRad * step) / steps),
    }));
  const quarter = Math.PI / 2;
  return [
    { x: 0, y: 0 },
    ...arc(3, 0.2, 0.2, -quarter, 18, 2 * quarter),
    ...arc(0.9, 0.55, 0.15, -quarter, 14, -2 * quarter),
    ...arc(3, 0.95, 0.25, -quarter, 22, 2 * quarter),
    ...arc(0.9, 1.3, 0.1, -quarter, 12, -2 * quarter),
    { x: 3, y: 1.4 },
    { x: 3.4, y: 1.5 },
    { x: 3, y: 1.7 },
    { x: 0, y: 2 },
  ];
}

describe('moved edges', () => {
  test('a square keeps its corners or has them rounded', () => {
    expect(groundM2(inflateRings([square], 0.5, 'miter'))).toBeCloseTo(25, 6);
    expect(groundM2(inflateRings([square], -0.5, 'miter'))).toBeCloseTo(9, 6);
    expect(groundM2(inflateRings([square], 0.5))).toBeCloseTo(16 + 8 + Math.PI / 4, 2);
    expect(groundM2(inflateRings([square], -0.5))).toBeCloseTo(9, 6);
  });

  test('nothing is left of ground too narrow', () => {
    expect(inflateRings([square], -2.01)).toEqual([]);
    expect(inflateRings([square], -2.01, 'miter')).toEqual([]);
  });

  test('a hole shrinks as the ground grows, and rings that all run the wrong way keep doing so', () => {
    const hole = reverseRing(square.map(({ x, y }) => ({ x: 1 + x / 4, y: 1 + y / 4 })));
    expect(groundM2(inflateRings([square, hole], 0.1, 'miter'))).toBeCloseTo(4.2 ** 2 - 0.8 ** 2, 6);
    const turned = inflateRings([reverseRing(square), reverseRing(hole)], 0.1, 'miter');
    expect(groundM2(turned)).toBeCloseTo(-(4.2 ** 2 - 0.8 ** 2), 6);
  });

  test('a corner too sharp to be left is cut off square at the distance', () => {
    const wedge: Ring = [
      { x: 0, y: 0 },
      { x: 8, y: -0.4 },
      { x: 8, y: 0.4 },
    ];
    const grown = inflateRings([wedge], 0.5, 'miter')[0]!;
    expect(Math.min(...grown.map((point) => point.x))).toBeCloseTo(-0.5, 3);
  });

  test.each([-0.25, -0.18, -0.12, -0.05, 0.05, 0.09, 0.12, 0.3])(
    'a comb moved by %f m is what lies that far from its edge',
    (distanceM) => {
      const rings = [comb()];
      const moved = inflateRings(rings, distanceM);
      for (let x = -0.5; x < 4; x += 0.057)
        for (let y = -0.5; y < 2.5; y += 0.053) {
          const point = { x, y };
          const apartM = toEdgeM(point, rings);
          if (Math.abs(apartM - Math.abs(distanceM)) < CHORD_TOLERANCE_M + 2e-4) continue;
          const isInside = isOn(point, rings);
          const isWanted = distanceM < 0 ? isInside && apartM > -distanceM : isInside || apartM < distanceM;
          expect({ x, y, isOn: isOn(point, moved) }).toEqual({ x, y, isOn: isWanted });
        }
    },
  );
});

describe('ground about a path', () => {
  test('a point gives a disc, a line round ends', () => {
    expect(ringAreaM2(inflatePath([{ x: 1, y: 2 }], 0.5)[0]!)).toBeCloseTo(Math.PI / 4, 2);
    const line = [
      { x: 0, y: 0 },
      { x: 3, y: 0 },
    ];
    expect(ringAreaM2(inflatePath(line, 0.5)[0]!)).toBeCloseTo(3 + Math.PI / 4, 2);
  });

  test('a path that comes back on itself closes a hole in', () => {
    const around = inflatePath([...square, square[0]!], 0.5);
    const [part] = nestRings(around);
    expect(part!.holes).toHaveLength(1);
    expect(groundM2(around)).toBeCloseTo(4 * 4 - 3 * 3 + 4 * 4 * 0.5 + Math.PI / 4, 2);
  });
});
