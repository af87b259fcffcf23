import { type Polygon, polygonAreaM2 } from '../geometry';
import { fieldSketches, fieldsSketch } from './fieldLoops';
import {
  expectedLengthM,
  isFree,
  isSound,
  loopRequest,
  MOST_AREA_BOTH_WAYS_M2,
  routeGround,
  routeMended,
  sketchOf,
  wantedDirection,
} from './groundLoops';
import { type LoopRequest, type LoopRoute, leastSeparationM } from './loop';
import { rowDirections } from './loop/directions';
import type { Sketch } from './sketch';
import type { LayoutInput } from './types';

/** A stretched route is another choice only where its rows really lie further apart. */
const STRETCHED_RATIO = 1.01;

/** Where nothing passed, rows are tried at these shares of the wanted spacing. */
const CLOSER_RATIOS = [1, 0.93, 0.86] as const;
const MOST_OTHER_DIRECTIONS = 5;
/** Larger ground is tried one way only: time is better spent by cutting the bed in two. */
const MOST_AREA_OTHER_WAYS_M2 = 400;

/** Keys of the loops that differ by how their rows lie. */
export const STRETCHED = 'loop-stretched';
export const ACROSS = 'loop-across';
export const CLOSER = 'loop-closer';
export const CUT = 'loop-cut';
/** Rows this share of the wanted spacing apart wet what their bends leave dry beside a slanted edge (tried on 73 beds; ours). */
const CLOSER_RATIO = 0.94;
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
    const cut = routeGround(ground, input, 0, input.rowDirectionRad);
    const split = splitSketches(ground, input, input.maxRunM, cut);
    if (split.length > 0) return { sketches: split, refused: null };
  }
  const plain = routeGround(ground, input, 0, input.rowDirectionRad);
  const sketches: Sketch[] = [];
  const add = (key: string, found: LoopRoute): void => {
    if (found.loops.length > 0) sketches.push(sketchOf(key, found));
  };
  const longestM = Math.max(0, ...plain.loops.map((loop) => loop.lengthM));
  if (input.maxRunM !== null && longestM > input.maxRunM) {
    const split = splitSketches(ground, input, input.maxRunM, plain);
    if (split.length > 0) return { sketches: [...split, sketchOf('loop-too-long', plain)], refused: null };
  }
  add('loop', plain);
  if (input.rowStretchRatio > 0) {
    const stretched = routeGround(
      ground,
      input,
      input.rowStretchRatio,
      input.rowDirectionRad,
      quickOf(input),
    );
    if (stretched.rowSpacingM > input.rowSpacingM * STRETCHED_RATIO) add(STRETCHED, stretched);
  }
  const isSmall = polygonAreaM2(ground) < MOST_AREA_BOTH_WAYS_M2;
  if (isFree(input) && isSmall && input.quality === 'finished' && plain.loops.length > 0) {
    const across = (plain.directionRad + Math.PI / 2) % Math.PI;
    const request = loopRequest(ground, input, 0, across, 'quick');
    const isNamed = input.chosenAlternative === ACROSS;
    add(ACROSS, routeMended(isNamed ? request : { ...request, beatM: plain.costM }, input));
  }
  return { sketches, refused: plain.refused ?? null };
}

/** The loop, or the loops of one comb, with rows somewhat closer than asked along a direction; null where there is none. */
export function closerLoop(ground: Polygon, input: LayoutInput, directionRad: number): Sketch | null {
  const leastM = leastSeparationM(input.rowSpacingM, input.bendRadiusM);
  const found = routeGround(ground, closerInput(input), 0, directionRad, 'quick', leastM);
  return found.loops.length > 0 ? sketchOf(CLOSER, found) : null;
}

/** The input with rows somewhat closer. */
export const closerInput = (input: LayoutInput): LayoutInput => ({
  ...input,
  rowSpacingM: CLOSER_RATIO * input.rowSpacingM,
});

/** One loop longer than the limit, on small ground: the last resort where no fields can be laid. */
export function wholeLoop(ground: Polygon, input: LayoutInput): Sketch | null {
  if (input.maxRunM === null || polygonAreaM2(ground) > MOST_AREA_BOTH_WAYS_M2) return null;
  const found = routeGround(ground, { ...input, maxRunM: null }, 0, input.rowDirectionRad);
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
export function loopAnotherWay(
  ground: Polygon,
  input: LayoutInput,
  way: OtherWay,
  quality: LoopRequest['quality'],
): Sketch | null {
  const closer = { ...input, rowSpacingM: input.rowSpacingM * way.closerRatio };
  if (input.maxRunM !== null && expectedLengthM(ground, closer) > input.maxRunM)
    return fieldsSketch(ground, closer, way.directionRad, input.maxRunM, 'loop');
  const leastM = leastSeparationM(input.rowSpacingM, input.bendRadiusM);
  const found = routeGround(ground, closer, 0, way.directionRad, quality, leastM);
  return found.loops.length > 0 ? sketchOf('loop', found) : null;
}

/**
 * Several loops, none longer than the limit. One comb of rows over the whole ground, cut between its rows, keeps the spacing
 * even from loop to loop; on small ground, where few rows are shared out unevenly, and where the comb fails or a pair of its
 * rows is longer than the limit, fields with a comb each are tried too.
 *
 * @param cut  the comb, routed
 */
function splitSketches(ground: Polygon, input: LayoutInput, maxLoopM: number, cut: LoopRoute): Sketch[] {
  const comb = cut.loops.length > 0 ? sketchOf(CUT, cut) : null;
  const isEnough =
    comb !== null &&
    polygonAreaM2(ground) >= MOST_AREA_BOTH_WAYS_M2 &&
    cut.loops.every((loop) => loop.lengthM <= maxLoopM) &&
    isSound(comb, input);
  if (isEnough) return [comb];
  return [...(comb ? [comb] : []), ...fieldSketches(ground, input, maxLoopM)];
}
