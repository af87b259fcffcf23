import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arcPoints, multiPolygonAreaM2, nestRings, signedRingAreaM2 } from '../../../src/core/geometry';
import { type Bed, type BedEdge, joinedRings, plainBed, splitRings } from '../../../src/core/plan';

type Corner = readonly [number, number, Partial<BedEdge>?];

const bedOf = (id: string, ...rings: readonly (readonly Corner[])[]): Bed =>
  plainBed(
    id,
    rings.map((corners) => ({
      points: corners.map(([x, y]) => ({ x, y })),
      edges: corners.map(([, , edge]) => ({ class: null, offsetM: null, sagittaM: 0, ...edge })),
    })),
  );

function areaOf(rings: Bed['rings']): number {
  const drawn = rings.map((ring) =>
    ring.points.flatMap((from, index) => {
      const to = ring.points[(index + 1) % ring.points.length] ?? from;
      return arcPoints(from, to, ring.edges[index]?.sagittaM ?? 0).slice(0, -1);
    }),
  );
  return multiPolygonAreaM2(nestRings(drawn, 'even-odd'));
}

const piecesOf = (bed: Bed, ...path: readonly (readonly [number, number])[]): readonly Bed['rings'][] => {
  const split = splitRings(
    bed,
    path.map(([x, y]) => ({ x, y })),
  );
  return split.kind === 'split' ? split.pieces : [];
};

describe('a bed cut along a line', () => {
  const rectangle = bedOf('one', [
    [0, 0, { class: 'paving' }],
    [6, 0, { class: 'foundation', offsetM: 0.3 }],
    [6, 4],
    [0, 4, { class: 'lawn' }],
  ]);

  it('falls in two along a slanted line, and every piece keeps the kinds of the edges it keeps', () => {
    // From (2, 0) to (4, 4), drawn short: the line is carried on straight.
    const pieces = piecesOf(rectangle, [2.5, 1], [3.5, 3]);
    expect(pieces.length).toBe(2);
    // By hand: the left piece has parallel sides of 2 and 4 m, 4 m apart: 12 m2; so has the right one.
    expect(pieces.map(areaOf)).toEqual([expect.closeTo(12, 3), expect.closeTo(12, 3)]);
    const classes = pieces.map(([ring]) => (ring?.edges ?? []).map((edge) => edge.class));
    expect(classes.map((one) => [...one].sort())).toEqual([
      ['lawn', 'paving', null, null].sort(),
      ['foundation', 'paving', null, null].sort(),
    ]);
    const foundation = pieces
      .flatMap(([ring]) => ring?.edges ?? [])
      .find((one) => one.class === 'foundation');
    expect(foundation?.offsetM).toBe(0.3);
  });

  it('may be cut along several bends', () => {
    const pieces = piecesOf(rectangle, [3, -1], [3, 2], [5, 2], [5, 5]);
    // By hand: right of the line 3 x 2 m below and 1 x 2 m above: 8 m2 of 24.
    expect(pieces.map(areaOf).sort((a, b) => a - b)).toEqual([expect.closeTo(8, 3), expect.closeTo(16, 3)]);
  });

  it('falls in three where a line crosses both arms of a U', () => {
    const u = bedOf('u', [
      [0, 0],
      [6, 0],
      [6, 4],
      [4, 4],
      [4, 2],
      [2, 2],
      [2, 4],
      [0, 4],
    ]);
    const areas = piecesOf(u, [-1, 3], [7, 3]).map(areaOf);
    expect(areas.sort((a, b) => a - b)).toEqual([
      expect.closeTo(2, 3),
      expect.closeTo(2, 3),
      expect.closeTo(16, 3),
    ]);
  });

  it('keeps an arc that is cut as two arcs of the same circle', () => {
    // A half circle of radius 2 m over the upper side of a 4 x 1 m rectangle.
    const rounded = bedOf('round', [
      [0, 0],
      [4, 0],
      [4, 1, { sagittaM: 2 }],
      [0, 1],
    ]);
    const pieces = piecesOf(rounded, [2, -1], [2, 5]);
    expect(pieces.length).toBe(2);
    for (const [ring] of pieces) {
      const arcs = (ring?.edges ?? []).filter((edge) => edge.sagittaM !== 0);
      expect(arcs.length).toBe(1);
      // A quarter of a circle of radius r stands r (1 - cos 45 deg) = 0.5858 m over its chord: by hand.
      expect(Math.abs(arcs[0]?.sagittaM ?? 0)).toBeCloseTo(2 * (1 - Math.SQRT1_2), 2);
    }
  });

  it('keeps a hole in the piece it lies in, and cuts it where the line runs through', () => {
    const holed = bedOf(
      'holed',
      [
        [0, 0],
        [6, 0],
        [6, 4],
        [0, 4],
      ],
      [
        [1, 1],
        [2, 1],
        [2, 2],
        [1, 2],
      ],
    );
    const beside = piecesOf(holed, [3, -1], [3, 5]);
    expect(beside.map((rings) => rings.length).sort()).toEqual([1, 2]);
    const through = piecesOf(holed, [1.5, -1], [1.5, 5]);
    expect(through.map((rings) => rings.length)).toEqual([1, 1]);
    expect(through.map(areaOf).reduce((sum, area) => sum + area, 0)).toBeCloseTo(23, 3);
  });

  it('stays whole where the line passes it by, or crosses itself', () => {
    const at = (x: number, y: number) => ({ x, y });
    expect(splitRings(rectangle, [at(8, 0), at(8, 4)]).kind).toBe('misses');
    expect(splitRings(rectangle, [at(1, 1)]).kind).toBe('misses');
    const looped = [at(1, 1), at(5, 1), at(5, 3), at(3, 3), at(3, 0)];
    expect(splitRings(rectangle, looped).kind).toBe('crosses-itself');
  });

  it('loses no ground, wherever it is cut, and every piece lies anticlockwise', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.3, max: 5.7, noNaN: true }),
        fc.double({ min: 0, max: Math.PI, noNaN: true }),
        (x, angleRad) => {
          const [dx, dy] = [Math.cos(angleRad), Math.sin(angleRad)];
          const pieces = piecesOf(rectangle, [x - dx / 4, 2 - dy / 4], [x + dx / 4, 2 + dy / 4]);
          expect(pieces.length).toBe(2);
          expect(pieces.map(areaOf).reduce((sum, area) => sum + area, 0)).toBeCloseTo(24, 2);
          for (const [ring] of pieces) expect(signedRingAreaM2(ring?.points ?? [])).toBeGreaterThan(0);
        },
      ),
      { numRuns: 100, seed: 8 },
    );
  });
});

describe('beds joined', () => {
  const west = bedOf('west', [
    [0, 0, { class: 'paving' }],
    [3, 0],
    [3, 2],
    [0, 2, { class: 'boundary', offsetM: 0.2 }],
  ]);

  it('become one where they share a side; the outer edges keep their kinds and their arcs', () => {
    const east = bedOf('east', [
      [3, 0, { class: 'lawn' }],
      [6, 0, { sagittaM: 0.5 }],
      [6, 2],
      [3, 2],
    ]);
    const rings = joinedRings([west, east]);
    expect(rings?.length).toBe(1);
    const edges = rings?.[0]?.edges ?? [];
    expect(
      edges
        .map((edge) => edge.class)
        .filter(Boolean)
        .sort(),
    ).toEqual(['boundary', 'lawn', 'paving']);
    expect(edges.filter((edge) => edge.sagittaM !== 0).map((edge) => edge.sagittaM)).toEqual([
      expect.closeTo(0.5, 3),
    ]);
    // 6 x 2 m and the part of a circle outside its 2 m chord at 0.5 m height: r = 1.25 m, and its area is
    // r^2 acos((r - h) / r) - (r - h) sqrt(2 r h - h^2) = 1.25^2 x 0.92730 - 0.75 x 1 = 0.69891 m2: by hand.
    expect(areaOf(rings ?? [])).toBeCloseTo(12.699, 2);
  });

  it('stay as they are where they do not touch', () => {
    const far = bedOf('far', [
      [5, 0],
      [7, 0],
      [7, 2],
      [5, 2],
    ]);
    expect(joinedRings([west, far])).toBeNull();
  });

  it('give back the outline they were split from', () => {
    const rounded = bedOf('round', [
      [0, 0],
      [4, 0, { class: 'lawn' }],
      [4, 1, { sagittaM: 2 }],
      [0, 1],
    ]);
    const pieces = piecesOf(rounded, [1, -1], [2.5, 5]);
    const joined = joinedRings(pieces.map((rings, index) => plainBed(`piece-${index}`, [...rings])));
    expect(areaOf(joined ?? [])).toBeCloseTo(areaOf(rounded.rings), 2);
    expect(joined?.[0]?.edges.some((edge) => edge.class === 'lawn')).toBe(true);
  });
});
