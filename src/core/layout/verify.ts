import type { BedRing, Join, Obstacle, Verification } from './types';
import { measureBends } from './verification/bends';
import { followFeeding } from './verification/feeding';
import { measureClearance } from './verification/keepingOff';
import { findMeetings } from './verification/meeting';
import { cutIntoPieces, type LaidRun } from './verification/pieces';

/** What a laid-out bed is held against. */
export interface VerifyInput {
  readonly rings: readonly BedRing[];
  readonly obstacles: readonly Obstacle[];
  readonly runs: readonly LaidRun[];
  readonly joins: readonly Join[];
  readonly rowSpacingM: number;
  /** The tubing's own least bend radius. */
  readonly bendRadiusM: number;
  /** Everything is laid and fed: ends, fittings and the way of the water are held too. Left out while a layout is only drawn. */
  readonly isFed?: boolean;
}

/** Tubing may come this much nearer an edge than its offset, and no more (what a crew can hold with staples is 10 times that). */
const CLEARANCE_TOLERANCE_M = 0.002;
/** Three points on a chain of chords give a radius a few percent off the arc's own. */
const RADIUS_TOLERANCE_RATIO = 0.05;
const SEPARATION_TOLERANCE_M = 0.002;

/** Least distance between two passes of tubing: 0.6 of the row spacing, and never less than a U-turn needs. */
const leastSeparationM = (rowSpacingM: number, bendRadiusM: number): number =>
  Math.max(0.6 * rowSpacingM, 2 * bendRadiusM);

const PLAIN = new Set(['lead', 'connector']);
const CLOSED_ROLES = new Set(['loop', 'ring']);

/**
 * Measures a finished layout from its paths alone: crossings, clearance, separation, hairpins, bends, closure, and that
 * every point lies inside the bed. Shares no code with the router, so that a mistake there cannot hide here.
 *
 * Lengths in metres. `failures` holds codes: `not-finite`, `empty`, `crossing`, `separation`, `clearance`, `outside`,
 * `bend`, `hairpin`, `open-loop`, and of a fed layout `loose-end`, `unfed`, `stray-fitting`. Separation is infinite where no two passes come near each other.
 */
export function verifyRuns(input: VerifyInput): Verification {
  const { runs, joins, rowSpacingM, bendRadiusM } = input;
  const failures: string[] = [];
  const isSound = runs.every((run) => run.path.every((p) => Number.isFinite(p.x) && Number.isFinite(p.y)));
  if (!isSound) return failed('not-finite');
  const wet = runs.filter((run) => !PLAIN.has(run.role));
  if (wet.length === 0 || wet.some((run) => run.path.length < 2)) return failed('empty');

  const leastM = leastSeparationM(rowSpacingM, bendRadiusM);
  const pieces = cutIntoPieces(runs, rowSpacingM / 3);
  const meeting = findMeetings(runs, pieces, joins, {
    neighbourM: 1.4 * rowSpacingM,
    joinReachM: 1.5 * rowSpacingM,
    lookM: leastM,
  });
  if (meeting.crossings > 0) failures.push('crossing');
  if (meeting.separationM < leastM - SEPARATION_TOLERANCE_M) failures.push('separation');

  const clearance = measureClearance(
    input.rings,
    input.obstacles,
    pieces,
    (index) => runs[index]!.role !== 'lead',
    0.04,
  );
  if (clearance.worstM < -CLEARANCE_TOLERANCE_M) failures.push('clearance');
  if (clearance.outside > 0) failures.push('outside');

  const bends = wet.map((run) => measureBends(run, bendRadiusM));
  const minBendRadiusM = Math.min(...bends.map((bend) => bend.minRadiusM));
  if (minBendRadiusM < bendRadiusM * (1 - RADIUS_TOLERANCE_RATIO)) failures.push('bend');
  if (bends.some((bend) => bend.hairpins > 0)) failures.push('hairpin');

  const closed = runs.filter((run) => CLOSED_ROLES.has(run.role)).every(comesBack);
  if (!closed) failures.push('open-loop');
  if (input.isFed) {
    const feeding = followFeeding(runs, joins);
    if (feeding.looseEnds > 0) failures.push('loose-end');
    if (feeding.unfedRuns > 0) failures.push('unfed');
    if (feeding.strayFittings > 0) failures.push('stray-fitting');
  }
  return {
    passed: failures.length === 0,
    crossings: meeting.crossings,
    worstClearanceM: clearance.worstM,
    separationM: meeting.separationM,
    minBendRadiusM,
    closed,
    failures,
  };
}

function comesBack(run: LaidRun): boolean {
  const first = run.path[0];
  const last = run.path.at(-1);
  return (
    run.closed &&
    first !== undefined &&
    last !== undefined &&
    Math.hypot(first.x - last.x, first.y - last.y) < 1e-6
  );
}

function failed(failure: string): Verification {
  return {
    passed: false,
    crossings: 0,
    worstClearanceM: 0,
    separationM: 0,
    minBendRadiusM: 0,
    closed: false,
    failures: [failure],
  };
}
