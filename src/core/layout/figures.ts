import {
  distanceM,
  headingRad,
  type PlanPoint,
  type Polyline,
  pointBetween,
  polylineLengthM,
  sinOf,
  tanOf,
  turnRad,
} from '../geometry';
import type { RunRole } from './types';

/** A straight stretch of tubing: neighbouring chords whose headings agree. */
export interface StraightStretch {
  readonly from: PlanPoint;
  readonly to: PlanPoint;
  readonly lengthM: number;
  readonly headingRad: number;
}

/** Chords within this angle of the one before run on straight (1 mm over a foot). */
const SAME_HEADING_RAD = 0.004;
/** A stretch shorter than this many row spacings is part of a turn, not of a row. */
const ROW_LEAST_ROWS = 1.5;
/** Tubing that turns this far is turned by hand and stapled on both sides. */
const TURN_RAD = Math.PI / 3;
/** Bends further apart than this many row spacings are two turns, not one. */
const TURN_REACH_ROWS = 0.6;

/** A row that bends more gently than with a radius of this many row spacings runs on: nobody stops to turn it. */
const GENTLEST_TURN_ROWS = 1;
/** How gently it bends at a corner is told by no more than this many row spacings to either side. */
const GENTLE_ARM_ROWS = 0.25;

/** Straight stretches in order along a path. */
export function straightStretches(path: Polyline): StraightStretch[] {
  const stretches: StraightStretch[] = [];
  let from = path[0];
  for (let i = 1; from && i < path.length; i += 1) {
    const goesOn =
      i + 1 < path.length && Math.abs(turnRad(path[i - 1]!, path[i]!, path[i + 1]!)) < SAME_HEADING_RAD;
    if (goesOn) continue;
    const to = path[i]!;
    stretches.push({ from, to, lengthM: distanceM(from, to), headingRad: headingRad(from, to) });
    from = to;
  }
  return stretches;
}

/** Number of turns a crew makes; the same counted from either end. */
export function countTurns(path: Polyline, rowSpacingM: number): number {
  return turnPlacesM(path, rowSpacingM).length;
}

/**
 * Where along a path its turns are, m from its start, ascending. Bends one way with no straight piece of
 * `TURN_REACH_ROWS` between them are one bend, worth a turn for each quarter it goes round, and one at least past
 * 60 degrees; rows that follow a bed's gentle bends do not turn. A closed path is followed across its seam.
 */
export function turnPlacesM(path: Polyline, rowSpacingM: number): number[] {
  const { points, startM, lengthM } = fromStraight(path);
  const places: number[] = [];
  let turnedRad = 0;
  let firstM = 0;
  let lastM = 0;
  const close = (): void => {
    const size = Math.abs(turnedRad);
    const count = size > TURN_RAD ? Math.max(1, Math.round(size / (Math.PI / 2))) : 0;
    for (let k = 1; k <= count; k += 1) places.push(firstM + ((lastM - firstM) * k) / count);
    turnedRad = 0;
  };
  let alongM = 0;
  for (let i = 1; i + 1 < points.length; i += 1) {
    alongM += distanceM(points[i - 1]!, points[i]!);
    const turned = turnRad(points[i - 1]!, points[i]!, points[i + 1]!);
    const armsM = (distanceM(points[i - 1]!, points[i]!) + distanceM(points[i]!, points[i + 1]!)) / 2;
    const gentleRad = Math.min(armsM / rowSpacingM, GENTLE_ARM_ROWS) / GENTLEST_TURN_ROWS;
    if (Math.abs(turned) < Math.max(SAME_HEADING_RAD, gentleRad)) continue;
    if (alongM - lastM > TURN_REACH_ROWS * rowSpacingM || turned * turnedRad < 0) close();
    if (turnedRad === 0) firstM = alongM;
    lastM = alongM;
    turnedRad += turned;
  }
  close();
  return places.map((atM) => (startM + atM) % lengthM).sort((one, other) => one - other);
}

/** A closed path begun in the middle of its longest chord, so that no bend lies across its seam; an open path as it is. */
function fromStraight(path: Polyline): { points: Polyline; startM: number; lengthM: number } {
  const [first, last] = [path[0], path.at(-1)];
  const isOpen = !first || !last || path.length < 4 || distanceM(first, last) > 0;
  if (isOpen) return { points: path, startM: 0, lengthM: Number.POSITIVE_INFINITY };
  const lengths = path.slice(1).map((b, i) => distanceM(path[i]!, b));
  const at = lengths.indexOf(Math.max(...lengths));
  const middle = pointBetween(path[at]!, path[at + 1]!, 0.5);
  const sum = (some: readonly number[]): number => some.reduce((total, one) => total + one, 0);
  return {
    points: [middle, ...path.slice(at + 1), ...path.slice(1, at + 1), middle],
    startM: sum(lengths.slice(0, at)) + lengths[at]! / 2,
    lengthM: sum(lengths),
  };
}

/** Share of a path's length that lies in straight stretches of a row and a half or more: what a jig can lay. */
export function straightShare(path: Polyline, rowSpacingM: number): number {
  const stretches = straightStretches(path);
  const totalM = stretches.reduce((sum, stretch) => sum + stretch.lengthM, 0);
  const straightM = stretches
    .filter((stretch) => stretch.lengthM > ROW_LEAST_ROWS * rowSpacingM)
    .reduce((sum, stretch) => sum + stretch.lengthM, 0);
  return totalM > 0 ? Math.min(1, straightM / totalM) : 0;
}

/** Number of rows: straight stretches of a row and a half or more along the given direction, within 10 degrees. */
export function countRows(paths: readonly Polyline[], directionRad: number, rowSpacingM: number): number {
  let rows = 0;
  for (const path of paths) {
    for (const stretch of straightStretches(path)) {
      if (stretch.lengthM <= ROW_LEAST_ROWS * rowSpacingM) continue;
      if (Math.abs(sinOf(stretch.headingRad - directionRad)) < sinOf(Math.PI / 18)) rows += 1;
    }
  }
  return rows;
}

/** Rows that follow bends are longer than this many row spacings; what is shorter goes across from row to row. */
const BENT_ROW_LEAST_ROWS = 4;

/** Number of rows that follow bends: long stretches from one turn to the next. */
export function countBentRows(paths: readonly Polyline[], rowSpacingM: number): number {
  let rows = 0;
  for (const path of paths) {
    const lengthM = polylineLengthM(path);
    const turnsM = turnPlacesM(path, rowSpacingM);
    const stretchesM = turnsM.map((fromM, index) => (turnsM[index + 1] ?? turnsM[0]! + lengthM) - fromM);
    rows += stretchesM.filter((stretchM) => stretchM > BENT_ROW_LEAST_ROWS * rowSpacingM).length;
  }
  return rows;
}

/** The tightest bend of a path, metres: half the chord over the sine of half the turn, measured over arms of `armM`. */
export function tightestBendM(path: Polyline, armM: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i + 1 < path.length; i += 1) {
    const turned = Math.abs(turnRad(path[i - 1]!, path[i]!, path[i + 1]!));
    if (turned < 1e-3) continue;
    const armsM = Math.min(armM, distanceM(path[i - 1]!, path[i]!), distanceM(path[i]!, path[i + 1]!));
    least = Math.min(least, armsM / (2 * tanOf(turned / 2)));
  }
  return least;
}

/** Tubing of a bed as every table gives it: what waters. The plain lead in from the stub-up and plain links are not in it, m. */
export function wateringLengthM(
  runs: readonly { readonly role: RunRole; readonly lengthM: number }[],
): number {
  return runs
    .filter(({ role }) => role !== 'lead' && role !== 'connector')
    .reduce((sum, { lengthM }) => sum + lengthM, 0);
}
