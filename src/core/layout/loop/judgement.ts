import {
  closeRing,
  distanceM,
  type PlanPoint,
  type Polyline,
  polylineLengthM,
  type Ring,
} from '../../geometry';
import { closeRuns } from './closeRuns';
import { countTurns, type DryPatch, dryPatches, type SampledGround } from './defects';
import type { LoopRequest } from './request';
import { unevenCostM } from './split';

/** Dry ground beyond what the goal allows weighs this many times the tubing it would take, and that within it so many. */
const DRY_WEIGHT = 12;
const FAIRLY_DRY_WEIGHT = 1;
/** A gap a whole spacing wider than the goal costs this much tubing, or twice what the ground would take; each other gap a share of it. */
const MOST_GAP_COST_M = 60;
const EACH_GAP_SHARE = 0.35;
/** Tubing nearer than it may be is worth this many metres of detour, each place. */
const CLOSE_WEIGHT_M = 20;
/** Among several loops as much of all their tubing again: no sharing out is even enough to lay runs too near for it. */
const CLOSE_SPLIT_RATIO = 4;
/** Runs may come this much nearer: bends are drawn with chords, and a fjord closed to the very least would count by chance, metres. */
const SLACK_M = 1e-3;
/** Where one loop would not be too long, each beyond it is worth this many metres of tubing. */
const ANOTHER_LOOP_M = 10;
/** A metre of tubing that is not laid straight costs this much more: it is dimensioned and laid by eye (ours, stated). */
const CURVED_WEIGHT_RATIO = 0.25;

/** What a laid loop costs in metres of tubing, and where it is not as wanted. */
export interface Judgement {
  readonly costM: number;
  /** The part of it that no mending takes away: tubing and turns. */
  readonly laidCostM: number;
  readonly dry: readonly DryPatch[];
  /** Points of runs nearer to each other than they may be, and how many separate places they make. */
  readonly close: readonly PlanPoint[];
  readonly closePlaces: number;
}

/** Judges loops on sampled ground. `idealM` is the tubing that the ground would take at best: its area by the spacing. */
export function judgeRings(
  rings: readonly Ring[],
  samples: SampledGround,
  idealM: number,
  request: LoopRequest,
  spacingM: number,
): Judgement {
  const paths = rings.map(closeRing);
  const lengthM = paths.reduce((sum, path) => sum + polylineLengthM(path), 0);
  const turns = paths.reduce((sum, path) => sum + countTurns(path, spacingM), 0);
  const dry = dryPatches(rings, samples, spacingM);
  const dryM2 = dry.reduce((sum, patch) => sum + patch.areaM2, 0);
  const furthestM = dry.reduce((furthest, patch) => Math.max(furthest, patch.distanceM), 0);
  const fairM2 = (1 - request.goal.coveredRatio) * idealM * spacingM;
  const runs = closeRuns(paths, spacingM, request.minSeparationM - SLACK_M);
  const close = runs.flatMap(({ one, other }) => [one, other]);
  const closePlaces = countPlaces(close, spacingM);
  const beyond = (distanceM: number): number => Math.max(0, distanceM / spacingM - request.goal.gapRatio);
  const isOneEnough = request.maxLoopLengthM === null || lengthM <= request.maxLoopLengthM;
  const laidCostM =
    lengthM +
    (isOneEnough ? ANOTHER_LOOP_M * (rings.length - 1) : unevenCostM(paths.map(polylineLengthM))) +
    (request.turnWeightM ?? 1) * turns +
    CURVED_WEIGHT_RATIO * paths.reduce((sum, path) => sum + shortPiecesM(path, spacingM), 0);
  const costM =
    laidCostM +
    (DRY_WEIGHT * Math.max(0, dryM2 - fairM2) + FAIRLY_DRY_WEIGHT * Math.min(dryM2, fairM2)) / spacingM +
    Math.min(2 * idealM, MOST_GAP_COST_M) *
      (beyond(furthestM) + EACH_GAP_SHARE * dry.reduce((sum, patch) => sum + beyond(patch.distanceM), 0)) +
    (CLOSE_WEIGHT_M + (isOneEnough ? 0 : CLOSE_SPLIT_RATIO * lengthM)) * closePlaces;
  return { costM, laidCostM, dry, close, closePlaces };
}

/** Tubing in pieces too short to be a row or a straight end, metres. */
function shortPiecesM(path: Polyline, spacingM: number): number {
  let sumM = 0;
  for (let index = 1; index < path.length; index++) {
    const lengthM = distanceM(path[index - 1]!, path[index]!);
    if (lengthM < 0.5 * spacingM) sumM += lengthM;
  }
  return sumM;
}

/** A loop laid again the only way looked at is compared with nothing. */
export const UNJUDGED: Judgement = { costM: 0, laidCostM: 0, dry: [], close: [], closePlaces: 0 };

/** How many separate places some points mark: points within a spacing of another are one place. */
function countPlaces(points: readonly PlanPoint[], spacingM: number): number {
  const places: PlanPoint[] = [];
  for (const point of points)
    if (places.every((place) => distanceM(place, point) > spacingM)) places.push(point);
  return places.length;
}
