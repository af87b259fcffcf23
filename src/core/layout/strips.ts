import {
  closeRing,
  distanceM,
  headingOf,
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
import type { Circuit, Sketch, SketchJoin, SketchRun } from './sketch';
import type { LayoutInput } from './types';

/** Outlines lose points that stray less than this from straight: below what staples hold. */
const SIMPLIFY_M = 0.001;
/** Ground wider than this many rows is no strip. */
const WIDEST_STRIP_ROWS = 2.4;

/**
 * Ground narrower than this share of the row spacing takes one row; wider takes a loop where one fits. Two rows nearer to each
 * other than this take twice the tubing of one and water no more (ours; a strip 12 in wide between its offsets, at 18 in, takes one).
 */
const SINGLE_ROW_RATIO = 0.7;

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
    if (lengthM > best.lengthM + 1e-6) best = { lengthM, angle: headingOf(b.y - a.y, b.x - a.x) };
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
  const rows = wideStretches(bent, inside, leastM, COVERED_RATIO * rowSpacingM).flatMap((path, index) => {
    const key = `centre-${index + 1}`;
    const joins = [path[0]!, path.at(-1)!].map((end): SketchJoin => {
      const isOnLoop = nearestOnPath(end, loop).distanceM < 2e-3;
      return isOnLoop
        ? { at: end, runKeys: ['loop', key], fitting: 'tee' }
        : { at: end, runKeys: [key], fitting: 'end-cap' };
    });
    return joins.some((join) => join.fitting === 'tee') ? [{ key, path, joins }] : [];
  });
  if (rows.length === 0) return null;
  return {
    runs: [
      { key: 'loop', role: 'loop', closed: true, path: loop },
      ...rows.map(({ key, path }): SketchRun => ({ key, role: 'centre-row', closed: false, path })),
    ],
    joins: rows.flatMap(({ joins }) => joins),
    flushKey: 'loop',
    canTurn: false,
  };
}

/** Stretches of a middle line, ends on the outline included, that keep `leastM` from both sides and water something new. */
function wideStretches(path: Polyline, inside: Polygon, leastM: number, coveredM: number): Polyline[] {
  const lengthM = polylineLengthM(path);
  const stepM = Math.max(0.05, lengthM / 600);
  const nearEndM = leastM * 1.3;
  const count = Math.ceil(lengthM / stepM);
  const stretches: { fromM: number; toM: number; isNeeded: boolean }[] = [];
  let isOpen = false;
  for (let k = 0; k <= count; k += 1) {
    const atM = Math.min(lengthM, k * stepM);
    const sideM = signedDistanceToPolygonM(pointAlong(path, atM).at, inside);
    const isAtEnd = atM < nearEndM || atM > lengthM - nearEndM;
    if (sideM < leastM && !isAtEnd) {
      isOpen = false;
      continue;
    }
    if (!isOpen) stretches.push({ fromM: atM, toM: atM, isNeeded: false });
    isOpen = true;
    const last = stretches[stretches.length - 1]!;
    last.toM = atM;
    if (sideM > coveredM) last.isNeeded = true;
  }
  return stretches
    .filter((stretch) => stretch.isNeeded && stretch.toM - stretch.fromM > 2 * nearEndM + leastM)
    .map((stretch) => simplifyPath(slicePath(path, stretch.fromM, stretch.toM), 1e-4));
}
