import {
  closeRing,
  distanceM,
  innerPoint,
  nearestOnPath,
  orientRing,
  type Polygon,
  type Polyline,
  pointAlong,
  polygonAreaM2,
  polylineLengthM,
  signedDistanceToPolygonM,
  simplifyPath,
  simplifyRing,
  slicePath,
} from '../geometry';
import { centrelineOf } from './centreline';
import { bendCorners } from './corners';
import { COVERED_RATIO } from './coverage';
import { followable, largestPiece } from './ground';
import { leastSeparationM } from './loop';
import type { Circuit, Sketch } from './sketch';
import type { LayoutInput } from './types';

/** Outlines lose points that stray less than this from straight: below what staples hold. */
const SIMPLIFY_M = 0.001;
/** Ground wider than this many rows is no strip. */
const WIDEST_STRIP_ROWS = 2.4;

/** Ground narrower than this share of the row spacing takes one row; wider takes a loop where one fits. */
const SINGLE_ROW_RATIO = 0.5;

/** Half the width of ground where it is widest, metres. */
export function halfWidthM(ground: Polygon): number {
  return innerPoint(ground, 0.01)?.clearanceM ?? 0;
}

/** The strip layouts that suit one piece of ground, fewest rows first. None where the ground is no strip. */
export function stripSketches(ground: Polygon, input: LayoutInput, rowSpacingM: number): Sketch[] {
  const widthM = 2 * halfWidthM(ground);
  if (widthM > WIDEST_STRIP_ROWS * rowSpacingM || ground.holes.length > 0) return [];
  const sketches: Sketch[] = [];
  const single = widthM <= 2 * COVERED_RATIO * rowSpacingM ? singleRow(ground, input) : null;
  if (single) {
    const isSparing = widthM > SINGLE_ROW_RATIO * rowSpacingM;
    sketches.push({ ...stripOf('strip-1', single, ground, rowSpacingM), isSparing });
  }
  const loop = edgeLoop(ground, input, rowSpacingM);
  if (!loop) return sketches;
  sketches.push(stripOf('strip-2', loopCircuit(loop), ground, rowSpacingM));
  const centre = centreRow(loop, input, rowSpacingM);
  if (centre) sketches.push(stripOf('strip-3', centre, ground, rowSpacingM));
  return sketches;
}

function stripOf(key: string, circuit: Circuit, ground: Polygon, rowSpacingM: number): Sketch {
  return { layout: 'strip', rowSpacingM, directionRad: longWayRad(ground), key, circuits: [circuit] };
}

function longWayRad(ground: Polygon): number {
  let best = { lengthM: 0, angle: 0 };
  ground.outer.forEach((a, i) => {
    const b = ground.outer[(i + 1) % ground.outer.length]!;
    const lengthM = distanceM(a, b);
    if (lengthM > best.lengthM + 1e-6) best = { lengthM, angle: Math.atan2(b.y - a.y, b.x - a.x) };
  });
  return ((best.angle % Math.PI) + Math.PI) % Math.PI;
}

/** One row out along the middle, flushed at its far end. */
function singleRow(ground: Polygon, input: LayoutInput): Circuit | null {
  const middle = centrelineOf(ground, 0.1);
  if (!middle || polylineLengthM(middle) < 2 * input.bendRadiusM) return null;
  const path = bendCorners(middle, 2 * input.bendRadiusM);
  return {
    runs: [{ key: 'row', role: 'single-row', closed: false, path }],
    joins: [{ at: path.at(-1)!, runKeys: ['row'], fitting: 'flush-valve' }],
    flushKey: 'row',
    canTurn: true,
  };
}

/** The loop that follows the edge of the ground: two rows of a strip. Null where it is too narrow for a U-turn. */
export function edgeLoop(ground: Polygon, input: LayoutInput, rowSpacingM: number): Polyline | null {
  const radiusM = leastSeparationM(rowSpacingM, input.bendRadiusM) / 2;
  const region = followable([ground.outer, ...ground.holes], radiusM);
  const piece = largestPiece(region);
  if (!piece || polygonAreaM2(piece) < 4 * radiusM * radiusM) return null;
  return closeRing(simplifyRing(orientRing(piece.outer, 'anticlockwise'), SIMPLIFY_M));
}

function loopCircuit(loop: Polyline): Circuit {
  return {
    runs: [{ key: 'loop', role: 'loop', closed: true, path: loop }],
    joins: [],
    flushKey: 'loop',
    canTurn: false,
  };
}

/**
 * The loop with a row down its middle where the two rows leave a dry stripe between them: from tee to tee, or from one
 * tee to an end cap where the strip narrows until the row would come too near its neighbours.
 */
function centreRow(loop: Polyline, input: LayoutInput, rowSpacingM: number): Circuit | null {
  const leastM = leastSeparationM(rowSpacingM, input.bendRadiusM);
  const inside: Polygon = { outer: loop.slice(0, -1), holes: [] };
  const middle = centrelineOf(inside, 0.1);
  if (!middle) return null;
  const bent = bendCorners(middle, 2 * input.bendRadiusM);
  const path = wideStretch(bent, inside, leastM, COVERED_RATIO * rowSpacingM);
  if (!path) return null;
  const ends = [path[0]!, path.at(-1)!];
  const joins = ends.map((end) => {
    const isOnLoop = nearestOnPath(end, loop).distanceM < 2e-3;
    return isOnLoop
      ? ({ at: end, runKeys: ['loop', 'centre'], fitting: 'tee' } as const)
      : ({ at: end, runKeys: ['centre'], fitting: 'end-cap' } as const);
  });
  if (!joins.some((join) => join.fitting === 'tee')) return null;
  return {
    runs: [
      { key: 'loop', role: 'loop', closed: true, path: loop },
      { key: 'centre', role: 'centre-row', closed: false, path },
    ],
    joins,
    flushKey: 'loop',
    canTurn: false,
  };
}

/** The longest stretch of a middle line, ends on the outline included, that keeps `leastM` from both sides; null where it waters nothing new. */
function wideStretch(path: Polyline, inside: Polygon, leastM: number, coveredM: number): Polyline | null {
  const lengthM = polylineLengthM(path);
  const stepM = Math.max(0.05, lengthM / 600);
  const nearEndM = leastM * 1.3;
  const count = Math.ceil(lengthM / stepM);
  let best: [number, number] | null = null;
  let from: number | null = null;
  let needsRow = false;
  for (let k = 0; k <= count; k += 1) {
    const atM = Math.min(lengthM, k * stepM);
    const sideM = signedDistanceToPolygonM(pointAlong(path, atM).at, inside);
    if (sideM > coveredM) needsRow = true;
    const isAtEnd = atM < nearEndM || atM > lengthM - nearEndM;
    if (sideM >= leastM || isAtEnd) {
      from ??= atM;
      if (!best || atM - from > best[1] - best[0]) best = [from, atM];
    } else from = null;
  }
  if (!best || !needsRow) return null;
  const [start, end] = best;
  const trimmed = slicePath(path, start, end);
  const isLong = polylineLengthM(trimmed) > 2 * nearEndM + leastM;
  return isLong ? simplifyPath(trimmed, 1e-4) : null;
}
