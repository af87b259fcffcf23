import type { BedRing, EdgeClass, Obstacle } from '../../src/core/layout';
import { type BedFile, plainInput } from './bedFiles';

const INCH_M = 0.0254;

interface Point {
  readonly x: number;
  readonly y: number;
}

const at = (x: number, y: number): Point => ({ x: Math.round(x * 1e4) / 1e4, y: Math.round(y * 1e4) / 1e4 });
const round = (turnRad: number, radiusM: number, centre: Point = at(0, 0)): Point =>
  at(centre.x + radiusM * Math.cos(turnRad), centre.y + radiusM * Math.sin(turnRad));
const steps = <T>(count: number, of: (share: number, index: number) => T): T[] =>
  Array.from({ length: count + 1 }, (_, i) => of(i / count, i));

function ring(points: readonly Point[], edgeClass: EdgeClass, offsetIn: number): BedRing {
  return { points, edges: points.map(() => ({ class: edgeClass, offsetM: offsetIn * INCH_M })) };
}
const outer = (points: readonly Point[]): BedRing => ring(points, 'paving', 3);
const disc = (centre: Point, radiusM: number, count = 24): Point[] =>
  Array.from({ length: count }, (_, i) => round((-2 * Math.PI * i) / count, radiusM, centre));

/** Ground of one width along a line: one side out, the other back. */
function band(middle: readonly Point[], widthM: number): Point[] {
  const side = (sign: number): Point[] =>
    middle.map((p, i) => {
      const before = middle[Math.max(0, i - 1)]!;
      const after = middle[Math.min(middle.length - 1, i + 1)]!;
      const lengthM = Math.hypot(after.x - before.x, after.y - before.y);
      const out = (sign * widthM) / 2 / lengthM;
      return at(p.x - (after.y - before.y) * out, p.y + (after.x - before.x) * out);
    });
  return [...side(-1), ...side(1).reverse()];
}

const spiral = band(
  steps(120, (share) => round(share * 4 * Math.PI, 1.6 + 5.4 * share)),
  1.9,
);

/** A back 1.6 m deep with five teeth 2 m wide on it. */
function combOutline(): Point[] {
  const teeth = [4, 3, 2, 1, 0].flatMap((tooth) => [
    ...(tooth === 4 ? [] : [at(3 * tooth + 2, 1.6)]),
    at(3 * tooth + 2, 6),
    at(3 * tooth, 6),
    ...(tooth === 0 ? [] : [at(3 * tooth, 1.6)]),
  ]);
  return [at(0, 0), at(14, 0), ...teeth];
}

const kidney = steps(79, (_, i) => {
  const turn = (2 * Math.PI * i) / 80;
  const radius = 3.4 + 0.9 * Math.cos(2 * turn) - 0.8 * Math.sin(turn);
  return round(turn, radius);
});

const longS = band(
  steps(80, (share) => at(26 * share, 3.2 * Math.sin(2 * Math.PI * share))),
  1.25,
);

const star = steps(13, (_, i) => round((Math.PI * i) / 7 + 0.2, i % 2 === 0 ? 5.2 : 2.5));

const crescent = [
  ...steps(40, (share) => round(-0.75 * Math.PI + 1.5 * Math.PI * share, 5)),
  ...steps(40, (share) => round(0.68 * Math.PI - 1.36 * Math.PI * share, 3.9, at(-1.55, 0))),
];

const h = [
  [0, 0],
  [2.4, 0],
  [2.4, 3],
  [6, 3],
  [6, 0],
  [8.4, 0],
  [8.4, 8],
  [6, 8],
  [6, 5],
  [2.4, 5],
  [2.4, 8],
  [0, 8],
].map(([x, y]) => at(x!, y!));

const rectangle = (x0: number, y0: number, x1: number, y1: number): Point[] => [
  at(x0, y0),
  at(x1, y0),
  at(x1, y1),
  at(x0, y1),
];

/** Twenty-four slim trunks on a grid shaken by hand: no two alike, none nearer an edge than a row. */
function manyTrees(): Obstacle[] {
  return Array.from({ length: 24 }, (_, i) => {
    const centre = at(
      1.5 + 2.1 * (i % 6) + 0.45 * Math.sin(7 * i),
      1.4 + 2 * Math.floor(i / 6) + 0.4 * Math.cos(5 * i),
    );
    return { id: `tree-${i + 1}`, outline: disc(centre, 0.09, 12).reverse(), clearanceM: 6 * INCH_M };
  });
}

const bed = (name: string, rings: readonly BedRing[], obstacles: readonly Obstacle[] = []): BedFile => ({
  name,
  input: { ...plainInput(name, rings), obstacles },
});

/**
 * Beds of outlines that no bed file holds: what a garden wall, a walk or a builder's whim leaves over.
 * Drawn from formulas, all at 18 in rows, 3 in off paving.
 */
export function shapedBeds(): BedFile[] {
  return [
    bed('annulus', [outer(disc(at(0, 0), 5, 96).reverse()), ring(disc(at(0, 0), 2.2, 48), 'paving', 3)]),
    bed('comb', [outer(combOutline())]),
    bed('courtyard-with-building', [
      outer(rectangle(0, 0, 14, 10)),
      ring(rectangle(4, 3, 10, 7).reverse(), 'foundation', 12),
    ]),
    bed('crescent', [outer(crescent)]),
    bed('h', [outer(h)]),
    bed('kidney-deep', [outer(kidney)]),
    bed('long-s-strip', [outer(longS)]),
    bed('many-small-trees', [outer(rectangle(0, 0, 13.5, 9))], manyTrees()),
    bed('spiral', [outer(spiral)]),
    bed('star-of-seven', [outer(star)]),
  ];
}
