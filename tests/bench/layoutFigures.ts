import { dropThinGround, signedRingAreaM2 } from '../../src/core/geometry';
import type { BedLayout, LayoutInput, Run } from '../../src/core/layout';

interface Point {
  readonly x: number;
  readonly y: number;
}
type Chord = readonly [Point, Point];

/** Tubing may touch where a fitting stands: ends there are rounded to the grid, to either side of the tubing they meet. */
const AT_FITTING_M = 0.002;
/** Rows are looked at away from their turns and from whatever they go round: three row spacings. */
const AWAY_ROWS = 3;
/** Where rows follow a bed's bends, a shorter stretch goes across from row to row. */
const BENT_ROW_ROWS = 4;
/** A row keeps within this of the bed's direction. */
const ROW_TURN_RAD = Math.PI / 18;

const turn = (a: Point, b: Point, c: Point): number => (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
const apartM = (a: Point, b: Point): number => Math.hypot(a.x - b.x, a.y - b.y);

/** Distance from a point to a straight length, metres. */
export function toChordM(p: Point, a: Point, b: Point): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const share = Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(p.x - a.x - share * dx, p.y - a.y - share * dy);
}

const chordsOf = (run: Run): Chord[] => run.path.slice(1).map((b, i) => [run.path[i]!, b]);
const sidesOf = (ring: readonly Point[]): Chord[] => ring.map((a, i) => [a, ring[(i + 1) % ring.length]!]);

/** Tubing that waters: everything but plain pieces. */
export const wetRuns = (part: BedLayout): Run[] =>
  part.runs.filter((run) => run.role !== 'lead' && run.role !== 'connector');

/** How often two chords of tubing cross between their ends, fittings left out. */
export function countCrossings(part: BedLayout): number {
  const chords = part.runs
    .flatMap(chordsOf)
    .map((chord) => ({ chord, from: Math.min(chord[0].x, chord[1].x), to: Math.max(chord[0].x, chord[1].x) }))
    .sort((one, other) => one.from - other.from);
  let count = 0;
  chords.forEach(({ chord: [a, b], to }, i) => {
    for (let k = i + 1; k < chords.length && chords[k]!.from <= to; k += 1) {
      const [c, d] = chords[k]!.chord;
      if (turn(a, b, c) * turn(a, b, d) >= -1e-12 || turn(c, d, a) * turn(c, d, b) >= -1e-12) continue;
      const share = turn(c, d, a) / (turn(c, d, a) - turn(c, d, b));
      const at = { x: a.x + (b.x - a.x) * share, y: a.y + (b.y - a.y) * share };
      if (part.joins.every((join) => apartM(join, at) > AT_FITTING_M)) count += 1;
    }
  });
  return count;
}

/** The worst of (distance from tubing to an edge or obstacle less what it must keep off), metres; leads left out. */
export function worstClearanceM(part: BedLayout, input: LayoutInput): number {
  const sides = [
    ...input.rings.flatMap((ring) =>
      sidesOf(ring.points).map((side, i) => ({ side, offsetM: ring.edges[i]!.offsetM })),
    ),
    ...input.obstacles.flatMap(({ outline, clearanceM }) =>
      sidesOf(outline).map((side) => ({ side, offsetM: clearanceM })),
    ),
  ];
  let worst = Number.POSITIVE_INFINITY;
  for (const run of part.runs.filter((each) => each.role !== 'lead'))
    for (const p of run.path)
      for (const { side, offsetM } of sides) worst = Math.min(worst, toChordM(p, ...side) - offsetM);
  return worst;
}

/** A row as laid: where it runs, and how far its middle strays from straight. */
export interface Row {
  readonly lengthM: number;
  /** Null where too little of it is left away from its ends and from what it goes round. */
  readonly strayM: number | null;
}

/** Rows: stretches of a row and a half or more that keep to the bed's direction; that lie between turns where rows follow its bends. */
export function rowsOf(part: BedLayout, input: LayoutInput): Row[] {
  const spacingM = part.nominalRowSpacingM;
  const inTheWay = [
    ...input.rings.slice(1).flatMap((ring) => sidesOf(ring.points)),
    ...input.obstacles.flatMap((obstacle) => sidesOf(obstacle.outline)),
  ];
  if (part.layout === 'contour')
    return wetRuns(part).flatMap((run) =>
      betweenTurnsM(run.path, spacingM)
        .filter((lengthM) => lengthM > BENT_ROW_ROWS * spacingM)
        .map((lengthM): Row => ({ lengthM, strayM: null })),
    );
  const isFree = (p: Point): boolean => inTheWay.every((side) => toChordM(p, ...side) > AWAY_ROWS * spacingM);
  return wetRuns(part).flatMap((run) => {
    const rows: Point[][] = [];
    let current: Point[] = [];
    for (const [a, b] of chordsOf(run)) {
      const across = Math.sin(Math.atan2(b.y - a.y, b.x - a.x) - part.directionRad);
      if (Math.abs(across) > Math.sin(ROW_TURN_RAD)) {
        current = [];
        continue;
      }
      if (current.length === 0) {
        current = [a];
        rows.push(current);
      }
      current.push(b);
    }
    return rows
      .map((path) => ({ path, lengthM: apartM(path[0]!, path.at(-1)!) }))
      .filter(({ lengthM }) => lengthM > 1.5 * spacingM)
      .map(({ path, lengthM }): Row => ({ lengthM, strayM: strayOf(path, AWAY_ROWS * spacingM, isFree) }));
  });
}

/** Stretches between turns longer than four rows are apart: the rows of a narrow loop that lie along edges of their own, whatever the bed's direction. */
export const longStretches = (part: BedLayout): number =>
  wetRuns(part)
    .flatMap((run) => betweenTurnsM(run.path, part.nominalRowSpacingM))
    .filter((lengthM) => lengthM > BENT_ROW_ROWS * part.nominalRowSpacingM).length;

/** Lengths of a path between places where it turns by more than 60 degrees within 0.6 of a spacing. */
function betweenTurnsM(path: readonly Point[], spacingM: number): number[] {
  const lengthsM: number[] = [];
  let sinceTurnM = 0;
  let turnedRad = 0;
  let lookedM = 0;
  for (let i = 1; i < path.length; i += 1) {
    const [a, b, c] = [path[i - 1]!, path[i]!, path[i + 1]];
    const stepM = apartM(a, b);
    sinceTurnM += stepM;
    lookedM += stepM;
    if (lookedM > 0.6 * spacingM) [lookedM, turnedRad] = [0, 0];
    if (!c) continue;
    turnedRad += Math.atan2(turn(a, b, c), (b.x - a.x) * (c.x - b.x) + (b.y - a.y) * (c.y - b.y));
    if (Math.abs(turnedRad) <= Math.PI / 3) continue;
    lengthsM.push(sinceTurnM);
    [sinceTurnM, lookedM, turnedRad] = [0, 0, 0];
  }
  return [...lengthsM, sinceTurnM];
}

/** Furthest of a row's own corners from the line through the first and last of them that lie well inside it. */
function strayOf(path: readonly Point[], endM: number, isFree: (p: Point) => boolean): number | null {
  const [first, last] = [path[0]!, path.at(-1)!];
  if (apartM(first, last) < 2 * endM + 0.5) return null;
  const inner = spaced(path, 0.05).filter(
    (p) => apartM(p, first) > endM && apartM(p, last) > endM && isFree(p),
  );
  const [from, to] = [inner[0], inner.at(-1)];
  if (!from || !to || apartM(from, to) < 0.5) return null;
  const lengthM = apartM(from, to);
  return Math.max(...inner.map((p) => Math.abs(turn(from, to, p)) / lengthM));
}

function spaced(path: readonly Point[], stepM: number): Point[] {
  return path.slice(1).flatMap((b, i) => {
    const a = path[i]!;
    const count = Math.max(1, Math.ceil(apartM(a, b) / stepM));
    return Array.from({ length: count }, (_, k) => ({
      x: a.x + ((b.x - a.x) * k) / count,
      y: a.y + ((b.y - a.y) * k) / count,
    }));
  });
}

/**
 * Does every piece of ground that two runs can reach have its one loop? Ground thinner than they lie apart hangs nothing
 * together, and a piece smaller than a short pair of rows needs none; on a strip one row may stand for a loop.
 */
export function hasALoopEach(part: BedLayout, input: LayoutInput): boolean {
  const loops = part.runs.filter((run) => run.role === 'loop').length;
  const leastM = Math.max(0.6 * input.rowSpacingM, 2 * input.bendRadiusM);
  const rings = part.usable.flatMap((ground) => [ground.outer, ...ground.holes]);
  const pieces = dropThinGround(rings, 0.49 * leastM, 'miter').filter(
    (ring) => signedRingAreaM2(ring) > 1.2 * leastM * input.rowSpacingM,
  );
  return part.layout === 'strip' ? loops <= 1 : loops === Math.max(1, pieces.length);
}

/** How far the loops of a split bed stray from their mean length, as a share of it; 0 for one loop. */
export function splitSpread(part: BedLayout): number {
  const loops = part.runs.filter((run) => run.role === 'loop').map((run) => run.lengthM);
  const mean = loops.reduce((sum, lengthM) => sum + lengthM, 0) / (loops.length || 1);
  return loops.length > 1 ? Math.max(...loops.map((lengthM) => Math.abs(lengthM / mean - 1))) : 0;
}

/** Every side of the outline in one of two directions at right angles. */
export function isRectilinear(input: LayoutInput): boolean {
  const sides = input.rings.flatMap((ring) => sidesOf(ring.points)).filter(([a, b]) => apartM(a, b) > 1e-3);
  const first = sides[0];
  if (!first) return true;
  const angle = Math.atan2(first[1].y - first[0].y, first[1].x - first[0].x);
  return sides.every(([a, b]) => Math.abs(Math.sin(2 * (Math.atan2(b.y - a.y, b.x - a.x) - angle))) < 0.002);
}
