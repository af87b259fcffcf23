import type { Join } from '../types';
import { CellIndex, type LaidRun, type Pieces, pointToLengthM } from './pieces';

/** Passes nearer than this lie on each other: a crossing that falls on the end of a piece. */
const TOUCH_M = 1e-7;

/** Tubing may run across other tubing only within the body of the fitting that joins them: ends are rounded to a grid. */
const AT_FITTING_M = 0.005;

/** Where tubing meets tubing: proper crossings, and the least distance between passes that are not neighbours along the tube. */
export interface Meeting {
  readonly crossings: number;
  readonly separationM: number;
  /** Where the least distance, or the first crossing, is. */
  readonly at: { readonly x: number; readonly y: number } | null;
}

const turn = (ax: number, ay: number, bx: number, by: number, cx: number, cy: number): number =>
  (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);

/** Strictly across each other; touching within a tenth of a micrometre squared does not count as a crossing but as a distance of nought. */
function areCrossing(p: Pieces, i: number, j: number): boolean {
  const ax = p.ax[i]!;
  const ay = p.ay[i]!;
  const bx = p.bx[i]!;
  const by = p.by[i]!;
  const cx = p.ax[j]!;
  const cy = p.ay[j]!;
  const dx = p.bx[j]!;
  const dy = p.by[j]!;
  if (turn(ax, ay, bx, by, cx, cy) * turn(ax, ay, bx, by, dx, dy) >= -1e-14) return false;
  return turn(cx, cy, dx, dy, ax, ay) * turn(cx, cy, dx, dy, bx, by) < -1e-14;
}

function crossingPlace(p: Pieces, i: number, j: number): { x: number; y: number } {
  const [ax, ay, bx, by] = [p.ax[i]!, p.ay[i]!, p.bx[i]!, p.by[i]!];
  const before = turn(p.ax[j]!, p.ay[j]!, p.bx[j]!, p.by[j]!, ax, ay);
  const after = turn(p.ax[j]!, p.ay[j]!, p.bx[j]!, p.by[j]!, bx, by);
  const share = before / (before - after);
  return { x: ax + (bx - ax) * share, y: ay + (by - ay) * share };
}

const middleOf = (p: Pieces, i: number): [number, number] => [
  (p.ax[i]! + p.bx[i]!) / 2,
  (p.ay[i]! + p.by[i]!) / 2,
];

function distanceM(p: Pieces, i: number, j: number): number {
  const [ax, ay, bx, by] = [p.ax[i]!, p.ay[i]!, p.bx[i]!, p.by[i]!];
  const [cx, cy, dx, dy] = [p.ax[j]!, p.ay[j]!, p.bx[j]!, p.by[j]!];
  return Math.min(
    pointToLengthM(ax, ay, cx, cy, dx, dy),
    pointToLengthM(bx, by, cx, cy, dx, dy),
    pointToLengthM(cx, cy, ax, ay, bx, by),
    pointToLengthM(dx, dy, ax, ay, bx, by),
  );
}

/** Boxes of two pieces further apart than this neither cross nor come near. */
function areFarApart(p: Pieces, i: number, j: number, lookM: number): boolean {
  return (
    Math.min(p.ax[i]!, p.bx[i]!) - Math.max(p.ax[j]!, p.bx[j]!) > lookM ||
    Math.min(p.ax[j]!, p.bx[j]!) - Math.max(p.ax[i]!, p.bx[i]!) > lookM ||
    Math.min(p.ay[i]!, p.by[i]!) - Math.max(p.ay[j]!, p.by[j]!) > lookM ||
    Math.min(p.ay[j]!, p.by[j]!) - Math.max(p.ay[i]!, p.by[i]!) > lookM
  );
}

/**
 * Tubing between two pieces, from the end of one to the beginning of the other; infinite where they belong to different
 * runs. Counted from beginning to beginning, a U-turn of just the least bend would hold passes nearer than a U-turn needs.
 */
function alongM(p: Pieces, runs: readonly LaidRun[], i: number, j: number): number {
  const run = p.run[i]!;
  if (run !== p.run[j]!) return Number.POSITIVE_INFINITY;
  const [first, second] = p.startM[i]! < p.startM[j]! ? [i, j] : [j, i];
  const between = p.startM[second]! - p.endM[first]!;
  const around = p.runLengthM[run]! - (p.endM[second]! - p.startM[first]!);
  return runs[run]!.closed ? Math.min(between, around) : between;
}

/**
 * Looks at every pair of nearby pieces. Within `joinReachM` of a declared join two runs of that join may meet;
 * elsewhere they may not. Plain leads may run beside tubing but never across it.
 */
export function findMeetings(
  runs: readonly LaidRun[],
  pieces: Pieces,
  joins: readonly Join[],
  limits: { readonly neighbourM: number; readonly joinReachM: number; readonly lookM: number },
): Meeting {
  const index = new CellIndex(limits.lookM);
  for (let i = 0; i < pieces.count; i += 1) {
    index.add(
      i,
      Math.min(pieces.ax[i]!, pieces.bx[i]!),
      Math.min(pieces.ay[i]!, pieces.by[i]!),
      Math.max(pieces.ax[i]!, pieces.bx[i]!),
      Math.max(pieces.ay[i]!, pieces.by[i]!),
    );
  }
  const joinIndex = new CellIndex(Math.max(limits.joinReachM, limits.lookM));
  joins.forEach((join, i) => {
    joinIndex.add(i, join.x, join.y, join.x, join.y);
  });
  const isAtSharedJoin = (i: number, j: number, x: number, y: number, reach: number): boolean => {
    let shared = false;
    joinIndex.visit(x - reach, y - reach, x + reach, y + reach, (k) => {
      const join = joins[k]!;
      if (Math.hypot(join.x - x, join.y - y) > reach) return;
      const ids = join.runIds;
      if (ids.includes(runs[pieces.run[i]!]!.id) && ids.includes(runs[pieces.run[j]!]!.id)) shared = true;
    });
    return shared;
  };

  let crossings = 0;
  let separationM = Number.POSITIVE_INFINITY;
  let at: Meeting['at'] = null;
  const seen = new Int32Array(pieces.count).fill(-1);
  for (let i = 0; i < pieces.count; i += 1) {
    const look = limits.lookM;
    index.visit(
      Math.min(pieces.ax[i]!, pieces.bx[i]!) - look,
      Math.min(pieces.ay[i]!, pieces.by[i]!) - look,
      Math.max(pieces.ax[i]!, pieces.bx[i]!) + look,
      Math.max(pieces.ay[i]!, pieces.by[i]!) + look,
      (j) => {
        if (j <= i || seen[j] === i) return;
        seen[j] = i;
        if (areFarApart(pieces, i, j, 2 * look)) return;
        const along = alongM(pieces, runs, i, j);
        if (!areFarApart(pieces, i, j, 0) && areCrossing(pieces, i, j)) {
          const { x, y } = crossingPlace(pieces, i, j);
          if (along === Number.POSITIVE_INFINITY && isAtSharedJoin(i, j, x, y, AT_FITTING_M)) return;
          crossings += 1;
          at = { x: pieces.ax[i]!, y: pieces.ay[i]! };
          separationM = 0;
          return;
        }
        const oneIsLead = runs[pieces.run[i]!]!.role === 'lead' || runs[pieces.run[j]!]!.role === 'lead';
        if (along <= limits.neighbourM || oneIsLead) return;
        const distance = distanceM(pieces, i, j);
        if (distance >= separationM || isAtSharedJoin(i, j, ...middleOf(pieces, i), limits.joinReachM))
          return;
        if (distance < TOUCH_M) crossings += 1;
        separationM = distance;
        if (crossings <= 1) at = { x: pieces.ax[i]!, y: pieces.ay[i]! };
      },
    );
  }
  return { crossings, separationM, at };
}
