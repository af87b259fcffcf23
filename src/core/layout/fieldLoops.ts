import { type Polygon, polygonAreaM2 } from '../geometry';
import { cutFields } from './fields';
import {
  isFree,
  isSound,
  MOST_AREA_BOTH_WAYS_M2,
  routeGround,
  sketchOf,
  wantedDirection,
} from './groundLoops';
import { type LoopRequest, type LoopRoute, leastSeparationM } from './loop';
import { rowDirections } from './loop/directions';
import type { Sketch } from './sketch';
import { stripSketches } from './strips';
import type { LayoutInput } from './types';

/** Directions of fields that are finished, and how much dearer than the cheapest, drawn roughly, the second may be. */
const MOST_SPLIT_WAYS = 2;
/** Keys of fields along the ground's second and third best direction. */
export const TURNED = ['loop-turned-1', 'loop-turned-2'] as const;
const CLOSE_CALL_RATIO = 1.03;
/** Ground left dry weighs this many times the tubing it would take, where loops are only drawn roughly. */
const ROUGH_DRY_WEIGHT = 6;

interface FieldWay {
  readonly quality: LoopRequest['quality'];
  readonly closerRatio: number;
  /** Rows along the field's own best direction instead of the bed's. */
  readonly isTurned: boolean;
}

/** How a field is tried, in turn, until its route passes and leaves hardly anything dry. */
const FIELD_WAYS: readonly FieldWay[] = [
  { quality: 'quick', closerRatio: 1, isTurned: false },
  { quality: 'finished', closerRatio: 1, isTurned: false },
  { quality: 'quick', closerRatio: 0.93, isTurned: false },
  { quality: 'quick', closerRatio: 1, isTurned: true },
  { quality: 'quick', closerRatio: 0.86, isTurned: false },
];
const PREVIEW_FIELD_WAYS: readonly FieldWay[] = [
  { quality: 'preview', closerRatio: 1, isTurned: false },
  { quality: 'quick', closerRatio: 1, isTurned: false },
];
/** A dragged bed's fields lie as they lay: the first way that comes to mind is tried before any others. */
const FOLLOWED_FIELD_WAYS: readonly FieldWay[] = [
  { quality: 'following', closerRatio: 1, isTurned: false },
  ...PREVIEW_FIELD_WAYS,
];
/** A field with no more of it dry than the first is done; with no more than the second, closer rows are not worth trying. */
const HARDLY_DRY_RATIO = 0.008;
const FAIRLY_DRY_RATIO = 0.03;
/** With more fields than this each is tried two ways only. */
const MANY_FIELDS = 40;

/**
 * Fields with a loop each, along the ground's own best directions. In a finished design of a small bed several are drawn
 * roughly; the cheapest is finished, and the next one too where it costs hardly more.
 */
export function fieldSketches(ground: Polygon, input: LayoutInput, maxLoopM: number): Sketch[] {
  const isSmall = polygonAreaM2(ground) < MOST_AREA_BOTH_WAYS_M2;
  const most = input.quality === 'finished' && isSmall ? 3 : 1;
  const directions = isFree(input)
    ? rowDirections(ground, 1.5 * input.rowSpacingM, most)
    : [wantedDirection(input)];
  const ways = directions.map((directionRad, index) => ({
    directionRad,
    key: index === 0 ? 'loop' : TURNED[index - 1]!,
    roughM: directions.length > 1 ? roughFieldsM(ground, input, directionRad, maxLoopM) : 0,
  }));
  const cheapestM = Math.min(...ways.map((way) => way.roughM));
  return ways
    .sort((one, other) => one.roughM - other.roughM)
    .filter((way, index) => index < MOST_SPLIT_WAYS && way.roughM <= CLOSE_CALL_RATIO * cheapestM)
    .flatMap((way) => fieldsSketch(ground, input, way.directionRad, maxLoopM, way.key) ?? []);
}

/** What fields along a direction would about cost, in metres of tubing, from loops laid without mending anything. */
function roughFieldsM(ground: Polygon, input: LayoutInput, directionRad: number, maxLoopM: number): number {
  const fields = cutFields(ground, input, directionRad, maxLoopM).pieces;
  return fields.reduce((sumM, piece) => {
    const found = routeGround(piece, input, 0, directionRad, 'preview');
    if (found.loops.length === 0) return sumM + (ROUGH_DRY_WEIGHT * polygonAreaM2(piece)) / input.rowSpacingM;
    const dryM2 = found.defects().reduce((sum, defect) => sum + (defect.areaM2 ?? 0), 0);
    const lengthM = found.loops.reduce((sum, loop) => sum + loop.lengthM, 0);
    return sumM + lengthM + input.turnWeightM * found.turns + (ROUGH_DRY_WEIGHT * dryM2) / input.rowSpacingM;
  }, 0);
}

/** A loop in each field, or the strip that suits a field too narrow for one; null where no field takes any. */
export function fieldsSketch(
  ground: Polygon,
  input: LayoutInput,
  directionRad: number,
  maxLoopM: number,
  key: string,
  isFollowed = false,
): Sketch | null {
  const fields = cutFields(ground, input, directionRad, maxLoopM);
  const ways =
    input.quality === 'preview'
      ? isFollowed
        ? FOLLOWED_FIELD_WAYS
        : PREVIEW_FIELD_WAYS
      : fields.pieces.length > MANY_FIELDS
        ? FIELD_WAYS.slice(0, 2)
        : FIELD_WAYS;
  const sketches = fields.pieces.flatMap((piece) => {
    const found = soundRoute(piece, input, directionRad, ways);
    if (found) return [sketchOf(key, found)];
    return stripSketches(piece, input, input.rowSpacingM)
      .filter((sketch) => isSound(sketch, input))
      .slice(0, 1);
  });
  const first = sketches[0];
  if (!first) return null;
  const circuits = sketches.flatMap((sketch) => sketch.circuits);
  return { layout: 'loop', rowSpacingM: first.rowSpacingM, directionRad, key, circuits };
}

/**
 * A field's route that passes the verifier by itself, so that one bad field does not cost the whole bed: the first that
 * leaves hardly anything dry, else the one that leaves least; null where none passes.
 */
function soundRoute(
  piece: Polygon,
  input: LayoutInput,
  directionRad: number,
  ways: readonly FieldWay[],
): LoopRoute | null {
  const leastM = leastSeparationM(input.rowSpacingM, input.bendRadiusM);
  const areaM2 = polygonAreaM2(piece);
  let best: LoopRoute | null = null;
  let bestRatio = Number.POSITIVE_INFINITY;
  for (const { quality, closerRatio, isTurned } of ways) {
    const isRefined = quality !== 'finished' && (closerRatio < 1 || isTurned);
    if (bestRatio <= (isRefined ? FAIRLY_DRY_RATIO : HARDLY_DRY_RATIO)) break;
    if (isTurned && !isFree(input)) continue;
    const closer = { ...input, rowSpacingM: input.rowSpacingM * closerRatio };
    const found = routeGround(piece, closer, 0, isTurned ? null : directionRad, quality, leastM);
    if (found.loops.length === 0 || !isSound(sketchOf('loop', found), input)) continue;
    const dryRatio = found.defects().reduce((sum, defect) => sum + (defect.areaM2 ?? 0), 0) / areaM2;
    if (dryRatio < bestRatio) {
      best = found;
      bestRatio = dryRatio;
    }
    if (quality === 'preview' || quality === 'following') break;
  }
  return best;
}
