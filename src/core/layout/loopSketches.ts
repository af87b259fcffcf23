import { type Polygon, polygonAreaM2 } from '../geometry';
import { cutFields } from './fields';
import { type LoopRequest, type LoopRoute, leastSeparationM, routeLoop } from './loop';
import { contourRad } from './loop/candidates';
import { rowDirections } from './loop/directions';
import type { Circuit, Sketch } from './sketch';
import { stripSketches } from './strips';
import type { LayoutInput } from './types';
import { verifyRuns } from './verify';

/** One jig serves the bed where rows are a multiple of this apart (half an inch; ours, shown). */
const JIG_STEP_M = 0.0127;
/** A stretched route is another choice only where its rows really lie further apart. */
const STRETCHED_RATIO = 1.01;

/** On larger ground the other direction is not worth the time it takes to draw. */
const MOST_AREA_BOTH_WAYS_M2 = 150;

/** Tubing beyond area over spacing that a loop takes, as a guess before it is drawn. */
const EXPECTED_RATIO = 1.06;

/** Where nothing passed, rows are tried at these shares of the wanted spacing. */
const CLOSER_RATIOS = [1, 0.93, 0.86] as const;
const MOST_OTHER_DIRECTIONS = 5;
/** Larger ground is tried one way only: time is better spent by cutting the bed in two. */
const MOST_AREA_OTHER_WAYS_M2 = 400;

/** Directions of fields that are finished, and how much dearer than the cheapest, drawn roughly, the second may be. */
const MOST_SPLIT_WAYS = 2;
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
/** A field with no more of it dry than the first is done; with no more than the second, closer rows are not worth trying. */
const HARDLY_DRY_RATIO = 0.008;
const FAIRLY_DRY_RATIO = 0.03;
/** With more fields than this each is tried two ways only. */
const MANY_FIELDS = 40;

const STRETCHED = 'loop-stretched';
const ACROSS = 'loop-across';
/** Sketches of one plain loop, that can be laid again by what the router remembers. */
const FOLLOWED_KEYS: ReadonlySet<string> = new Set(['loop', STRETCHED, ACROSS]);

/** A sketch of closed loops, or the router's reason why there is none. */
export interface LoopSketches {
  readonly sketches: readonly Sketch[];
  readonly refused: LoopRoute['refused'] | null;
}

/**
 * The closed loops worth comparing on one piece of ground: rows as asked; rows stretched where that is allowed and saves
 * some; and, in a finished design without a fixed direction, rows the other way. Ground that one loop within the length
 * limit cannot serve is cut into fields first.
 */
export function loopSketches(ground: Polygon, input: LayoutInput): LoopSketches {
  if (input.maxRunM !== null && expectedLengthM(ground, input) > input.maxRunM) {
    const split = splitSketches(ground, input, input.maxRunM);
    if (split.length > 0) return { sketches: split, refused: null };
  }
  const plain = route(ground, input, 0, input.rowDirectionRad);
  const sketches: Sketch[] = [];
  const add = (key: string, found: LoopRoute): void => {
    if (found.loops.length > 0) sketches.push(sketchOf(key, found));
  };
  const longestM = Math.max(0, ...plain.loops.map((loop) => loop.lengthM));
  if (input.maxRunM !== null && longestM > input.maxRunM) {
    const split = splitSketches(ground, input, input.maxRunM);
    if (split.length > 0) return { sketches: [...split, sketchOf('loop-too-long', plain)], refused: null };
  }
  add('loop', plain);
  if (input.rowStretchRatio > 0) {
    const stretched = route(ground, input, input.rowStretchRatio, input.rowDirectionRad, quickOf(input));
    if (stretched.rowSpacingM > input.rowSpacingM * STRETCHED_RATIO) add(STRETCHED, stretched);
  }
  const isSmall = polygonAreaM2(ground) < MOST_AREA_BOTH_WAYS_M2;
  if (isFree(input) && isSmall && input.quality === 'finished' && plain.loops.length > 0) {
    const across = (plain.directionRad + Math.PI / 2) % Math.PI;
    add(ACROSS, route(ground, input, 0, across, 'quick'));
  }
  return { sketches, refused: plain.refused ?? null };
}

/**
 * The loop taken last, laid the same way on ground that has changed under the hand: a third of the work of comparing all ways
 * again. Null where no loop was taken last, or where it would be longer than allowed.
 */
export function followedLoop(ground: Polygon, input: LayoutInput): Sketch | null {
  const { previous, maxRunM } = input;
  if (previous?.topology === undefined || !FOLLOWED_KEYS.has(previous.key)) return null;
  if (maxRunM !== null && expectedLengthM(ground, input) > maxRunM) return null;
  const stretchRatio = previous.key === STRETCHED ? input.rowStretchRatio : 0;
  const found = route(ground, input, stretchRatio, input.rowDirectionRad, 'following');
  const isTooLong = found.loops.some((loop) => maxRunM !== null && loop.lengthM > maxRunM);
  return found.loops.length === 0 || isTooLong ? null : sketchOf(previous.key, found);
}

/** One loop longer than the limit, on small ground: the last resort where no fields can be laid. */
export function wholeLoop(ground: Polygon, input: LayoutInput): Sketch | null {
  if (input.maxRunM === null || polygonAreaM2(ground) > MOST_AREA_BOTH_WAYS_M2) return null;
  const found = route(ground, { ...input, maxRunM: null }, 0, input.rowDirectionRad);
  return found.loops.length > 0 ? sketchOf('loop-too-long', found) : null;
}

/** The quality of a layout that stands beside another of its kind. */
const quickOf = (input: LayoutInput): LoopRequest['quality'] =>
  input.quality === 'preview' ? 'preview' : 'quick';

/** Ways still open where no first route passed the check: other directions, then rows a little closer. */
export interface OtherWay {
  readonly directionRad: number;
  readonly closerRatio: number;
}

/** The other ways of laying loops on a piece of ground, most promising first. */
export function otherWays(ground: Polygon, input: LayoutInput): OtherWay[] {
  if (polygonAreaM2(ground) > MOST_AREA_OTHER_WAYS_M2) return [];
  const directions = isFree(input)
    ? rowDirections(ground, 1.5 * input.rowSpacingM, MOST_OTHER_DIRECTIONS)
    : [wantedDirection(input)];
  return CLOSER_RATIOS.flatMap((closerRatio) =>
    directions.map((directionRad) => ({ directionRad, closerRatio })),
  );
}

/** A route laid one of the other ways; null where there is none. */
export function loopAnotherWay(ground: Polygon, input: LayoutInput, way: OtherWay): Sketch | null {
  const closer = { ...input, rowSpacingM: input.rowSpacingM * way.closerRatio };
  if (input.maxRunM !== null && expectedLengthM(ground, closer) > input.maxRunM)
    return fieldsSketch(ground, closer, way.directionRad, input.maxRunM, 'loop');
  const leastM = leastSeparationM(input.rowSpacingM, input.bendRadiusM);
  const found = route(ground, closer, 0, way.directionRad, 'quick', leastM);
  return found.loops.length > 0 ? sketchOf('loop', found) : null;
}

const expectedLengthM = (ground: Polygon, input: LayoutInput): number =>
  (EXPECTED_RATIO * polygonAreaM2(ground)) / input.rowSpacingM;

const wantedDirection = (input: LayoutInput): number =>
  input.rowDirectionRad ?? (input.slope ? contourRad(input.slope.towardRad) : 0);

const isFree = (input: LayoutInput): boolean => input.rowDirectionRad === null && input.slope === null;

/**
 * Fields with a loop each, along the ground's own best directions. In a finished design of a small bed several are drawn
 * roughly; the cheapest is finished, and the next one too where it costs hardly more.
 */
function splitSketches(ground: Polygon, input: LayoutInput, maxLoopM: number): Sketch[] {
  const isSmall = polygonAreaM2(ground) < MOST_AREA_BOTH_WAYS_M2;
  const most = input.quality === 'finished' && isSmall ? 3 : 1;
  const directions = isFree(input)
    ? rowDirections(ground, 1.5 * input.rowSpacingM, most)
    : [wantedDirection(input)];
  const ways = directions.map((directionRad, index) => ({
    directionRad,
    key: index === 0 ? 'loop' : `loop-turned-${index}`,
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
    const found = route(piece, input, 0, directionRad, 'preview');
    if (found.loops.length === 0) return sumM + (ROUGH_DRY_WEIGHT * polygonAreaM2(piece)) / input.rowSpacingM;
    const dryM2 = found.defects.reduce((sum, defect) => sum + (defect.areaM2 ?? 0), 0);
    const lengthM = found.loops.reduce((sum, loop) => sum + loop.lengthM, 0);
    return sumM + lengthM + input.turnWeightM * found.turns + (ROUGH_DRY_WEIGHT * dryM2) / input.rowSpacingM;
  }, 0);
}

/** A loop in each field, or the strip that suits a field too narrow for one; null where no field takes any. */
function fieldsSketch(
  ground: Polygon,
  input: LayoutInput,
  directionRad: number,
  maxLoopM: number,
  key: string,
): Sketch | null {
  const fields = cutFields(ground, input, directionRad, maxLoopM);
  const ways =
    input.quality === 'preview'
      ? PREVIEW_FIELD_WAYS
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
    const found = route(piece, closer, 0, isTurned ? null : directionRad, quality, leastM);
    if (found.loops.length === 0 || !isSound(sketchOf('loop', found), input)) continue;
    const dryRatio = found.defects.reduce((sum, defect) => sum + (defect.areaM2 ?? 0), 0) / areaM2;
    if (dryRatio < bestRatio) {
      best = found;
      bestRatio = dryRatio;
    }
    if (quality === 'preview') break;
  }
  return best;
}

/** Does a sketch pass the verifier before anything is fed or flushed? */
function isSound(sketch: Sketch, input: LayoutInput): boolean {
  const { rings, obstacles, rowSpacingM, bendRadiusM } = input;
  const idOf = (circuit: number, key: string): string => `${circuit}:${key}`;
  const runs = sketch.circuits.flatMap((circuit, index) =>
    circuit.runs.map(({ key, role, closed, path }) => ({ id: idOf(index, key), role, closed, path })),
  );
  const joins = sketch.circuits.flatMap((circuit, index) =>
    circuit.joins.map((join) => ({
      x: join.at.x,
      y: join.at.y,
      runIds: join.runKeys.map((key) => idOf(index, key)),
      fitting: join.fitting,
    })),
  );
  return verifyRuns({ rings, obstacles, runs, joins, rowSpacingM, bendRadiusM }).passed;
}

function route(
  ground: Polygon,
  input: LayoutInput,
  stretchRatio: number,
  directionRad: number | null,
  quality: LoopRequest['quality'] = input.quality,
  leastM = leastSeparationM(input.rowSpacingM, input.bendRadiusM),
): LoopRoute {
  const memory = input.previous;
  return routeLoop({
    usable: [ground],
    routable: [ground],
    rowSpacingM: input.rowSpacingM,
    rowStretchRatio: stretchRatio,
    jigStepM: JIG_STEP_M,
    directionRad,
    minSeparationM: leastM,
    bendRadiusM: input.bendRadiusM,
    stubUp: input.stubUp,
    slope: input.slope,
    maxLoopLengthM: input.maxRunM,
    quality,
    memory: memory?.topology ? { directionRad: memory.directionRad, key: memory.topology } : null,
    turnWeightM: input.turnWeightM,
  });
}

function sketchOf(key: string, found: LoopRoute): Sketch {
  return {
    layout: 'loop',
    rowSpacingM: found.rowSpacingM,
    directionRad: found.directionRad,
    key,
    topology: found.key,
    circuits: found.loops.map(
      (loop): Circuit => ({
        runs: [{ key: 'loop', role: 'loop', closed: true, path: loop.path }],
        joins: [],
        flushKey: 'loop',
        canTurn: false,
      }),
    ),
  };
}
