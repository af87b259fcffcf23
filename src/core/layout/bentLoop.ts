import {
  closeRing,
  inPieces,
  intersectRings,
  type Polygon,
  polylineLengthM,
  quantisePoints,
  rectangleRing,
  simplifyRing,
} from '../geometry';
import { tightestBendM } from './figures';
import { largestPiece } from './ground';
import { isFree, loopRequest, routeMended, sketchOf } from './groundLoops';
import { type LoopRequest, type LoopRoute, leastSeparationM } from './loop';
import { shapeOutline } from './loop/shape';
import { type RibbonFrame, ribbonFrame } from './ribbonFrame';
import type { Sketch } from './sketch';
import type { LayoutInput } from './types';

/** Rows need this much room between the least distance two runs may lie apart, where they are nearest, and their spacing. */
const ROOM_RATIO = 0.97;
/** Outlines and rows are bent with points no further apart than this, metres. */
const STEP_M = 0.1;
/** What points may be thinned by once tubing is bent, metres. */
const THIN_M = 4e-4;

/** Bends are measured over arms of this length, metres. */
const BEND_ARM_M = 0.05;

/** The key of loops whose rows follow a ribbon's bends. */
export const BENT = 'contour-bent';

/**
 * The loop on a winding ribbon whose rows follow its bends: the ribbon laid out straight along its middle, routed there as
 * any ground is, and bent back.
 * Null where the designer or the slope sets the rows' direction, and on ground that is no ribbon, hardly bends or bends tightly.
 */
export function bentSketch(
  ground: Polygon,
  input: LayoutInput,
  quality: LoopRequest['quality'],
): Sketch | null {
  if (!isFree(input)) return null;
  const frame = ribbonFrame(ground, input.rowSpacingM);
  if (!frame) return null;
  const straight = laidOut(ground, frame);
  if (!straight) return null;
  const leastRatio = Math.min(
    ...[straight.outer, ...straight.holes].flatMap((ring) => ring.map((point) => frame.leastRatio(point))),
  );
  const tightest = Math.min(1, leastRatio);
  const leastM = leastSeparationM(input.rowSpacingM, input.bendRadiusM) / tightest;
  if (!(leastM > 0) || leastM > ROOM_RATIO * input.rowSpacingM) return null;
  const inFrame: LayoutInput = {
    ...input,
    bendRadiusM: input.bendRadiusM / tightest,
    stubUp: input.stubUp && frame.toFrame(input.stubUp),
    previous: null,
  };
  const request = loopRequest(straight, inFrame, 0, 0, quality, leastM);
  const bent = (found: LoopRoute): Sketch => ({
    ...sketchOf(BENT, { ...found, loops: found.loops.map((loop) => bentBack(loop, frame, ground, input)) }),
    layout: 'contour',
  });
  const found = routeMended(request, input, bent);
  return found.loops.length > 0 ? bent(found) : null;
}

/** The ground in the frame, as far as it lies between the outer rows; null where nothing does. */
function laidOut(ground: Polygon, frame: RibbonFrame): Polygon | null {
  const rings = [ground.outer, ...ground.holes].map((ring) =>
    quantisePoints(inPieces(closeRing(ring), STEP_M).slice(0, -1).map(frame.toFrame)),
  );
  const xs = rings[0]!.map(({ x }) => x);
  const between = rectangleRing(
    { x: Math.min(...xs), y: frame.lowestY },
    { x: Math.max(...xs), y: frame.highestY },
  );
  return largestPiece(intersectRings(rings, [between]));
}

/** A loop brought back to the ground, its corners bent once more there: a width shared out squeezes round corners to tighter ones. */
function bentBack(
  loop: LoopRoute['loops'][number],
  frame: RibbonFrame,
  ground: Polygon,
  input: LayoutInput,
): LoopRoute['loops'][number] {
  const ring = simplifyRing(inPieces(loop.path, STEP_M).slice(0, -1).map(frame.toPlan), THIN_M);
  const isTight = tightestBendM(closeRing(ring), BEND_ARM_M) < input.bendRadiusM;
  const leastM = leastSeparationM(input.rowSpacingM, input.bendRadiusM);
  const shaped = isTight
    ? shapeOutline(ring, [ground.outer, ...ground.holes], input.bendRadiusM, leastM)
    : null;
  const path = closeRing(quantisePoints(shaped && shaped.lost.length === 0 ? shaped.ring : ring));
  return { ...loop, path, lengthM: polylineLengthM(path) };
}
