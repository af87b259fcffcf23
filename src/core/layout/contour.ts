import {
  closeRing,
  distanceM,
  dropThinGround,
  exclusiveRings,
  inflateRings,
  intersectRings,
  nearestOnPath,
  nestRings,
  orientRing,
  type PlanPoint,
  type Polygon,
  pointAlong,
  polylineLengthM,
  type Region,
  type Ring,
  ringAreaM2,
  ringLengthM,
  simplifyRing,
  sinOf,
  subtractRings,
} from '../geometry';
import { COVERED_RATIO } from './coverage';
import { followable, largestPiece, roundBothWays } from './ground';
import { leastSeparationM } from './loop';
import type { Sketch } from './sketch';
import { halfWidthM } from './strips';
import type { LayoutInput } from './types';

/** Outlines whose long straight edges make up more than this share of them are better served by straight rows. */
const MOST_STRAIGHT_RATIO = 0.4;
const MOST_RINGS = 40;
/** Curves are thinned to this while they are offset, metres: less than a chord strays from its arc. */
const THIN_M = 3e-4;
/** Ground no wider, from its middle to its edge, than this many row spacings is a ribbon. */
const WIDEST_RIBBON_ROWS = 3;
/** Places tried for one slot before a ring is given up. */
const MOST_TRIES = 30;

/**
 * A loop that follows the outline inwards: the ground's insets, one row apart, each joined to the one round it by a slot,
 * so that the number of rings falls by one with every slot until one is left. Offered on ground without holes whose
 * outline is mostly curved; null elsewhere, and where some ring cannot be joined.
 */
export function contourSketch(ground: Polygon, input: LayoutInput, rowSpacingM: number): Sketch | null {
  if (!isCurvy(ground, rowSpacingM)) return null;
  const leastM = leastSeparationM(rowSpacingM, input.bendRadiusM);
  const halfM = halfWidthM(ground);
  const rings = Math.ceil((halfM - COVERED_RATIO * rowSpacingM) / rowSpacingM) + 1;
  const inmostM = halfM - (rings - 1) * rowSpacingM;
  const stepM = inmostM >= 0.55 * leastM ? rowSpacingM : (halfM - 0.55 * leastM) / (rings - 1);
  return ringsSketch('contour', ground, input, rings, stepM, leastM);
}

/**
 * The same along a narrow ribbon, its width shared out evenly: as many rings as keep the rows no wider than asked, the two rows
 * down the middle as far apart as all others. Null on wider ground, where an even share saves nothing.
 */
export function ribbonSketch(ground: Polygon, input: LayoutInput, rowSpacingM: number): Sketch | null {
  const halfM = halfWidthM(ground);
  if (halfM > WIDEST_RIBBON_ROWS * rowSpacingM || !isCurvy(ground, rowSpacingM)) return null;
  const rings = Math.ceil(halfM / rowSpacingM + 0.5 - 1e-6);
  const leastM = leastSeparationM(rowSpacingM, input.bendRadiusM);
  return ringsSketch('contour-even', ground, input, rings, halfM / (rings - 0.5), leastM);
}

const isCurvy = (ground: Polygon, rowSpacingM: number): boolean =>
  ground.holes.length === 0 && straightRatio(ground.outer, rowSpacingM) <= MOST_STRAIGHT_RATIO;

function ringsSketch(
  key: string,
  ground: Polygon,
  input: LayoutInput,
  rings: number,
  stepM: number,
  leastM: number,
): Sketch | null {
  if (rings < 2 || rings > MOST_RINGS || stepM < leastM) return null;
  const levels = insets(ground, stepM, rings, leastM);
  const outline = joinLevels(levels, stepM, input);
  if (!outline) return null;
  const rounded = roundOutline(outline, input.bendRadiusM, levels[0]!);
  if (!rounded) return null;
  return {
    layout: 'contour',
    rowSpacingM: stepM,
    directionRad: 0,
    key,
    circuits: [
      {
        runs: [{ key: 'loop', role: 'loop', closed: true, path: closeRing(simplifyRing(rounded, 0.001)) }],
        joins: [],
        flushKey: 'loop',
        canTurn: false,
      },
    ],
  };
}

function straightRatio(outer: Ring, rowSpacingM: number): number {
  let straightM = 0;
  outer.forEach((a, i) => {
    const lengthM = distanceM(a, outer[(i + 1) % outer.length]!);
    if (lengthM > 1.5 * rowSpacingM) straightM += lengthM;
  });
  return straightM / ringLengthM(outer);
}

function insets(ground: Polygon, stepM: number, count: number, leastM: number): Region[] {
  const outermost = followable([ground.outer], leastM / 2, THIN_M);
  const levels: Region[] = [outermost];
  for (let k = 1; k < count; k += 1) {
    const inner = dropThinGround(inflateRings(outermost, -k * stepM), leastM / 2);
    const kept = inner.filter((ring) => ringAreaM2(ring) > leastM * leastM);
    if (kept.length === 0) break;
    levels.push(kept);
  }
  return levels;
}

/** Every ring joined to the one round it. Null where a ring finds no place for its slot. */
function joinLevels(levels: readonly Region[], stepM: number, input: LayoutInput): Ring | null {
  let shape: Region = levels.reduce((sum, level) => exclusiveRings(sum, level), [] as Region);
  let count = shape.length;
  const used: PlanPoint[] = [];
  for (let k = 0; k + 1 < levels.length; k += 1) {
    const between = subtractRings(levels[k]!, levels[k + 1]!);
    for (const ring of levels[k + 1]!) {
      const joined = joinRing(shape, count, ring, levels[k]!, between, stepM, used, input.stubUp);
      if (!joined) return null;
      shape = joined.shape;
      count -= 1;
      used.push(joined.at);
    }
  }
  const piece = largestPiece(shape);
  return piece && piece.holes.length === 0 && count === 1 ? piece.outer : null;
}

function joinRing(
  shape: Region,
  count: number,
  ring: Ring,
  outer: Region,
  between: Region,
  stepM: number,
  used: readonly PlanPoint[],
  stubUp: PlanPoint | null,
): { shape: Region; at: PlanPoint } | null {
  for (const place of slotPlaces(ring, outer, stepM, used, stubUp).slice(0, MOST_TRIES)) {
    const slot = intersectRings([slotRing(place, stepM)], between);
    if (slot.length !== 1) continue;
    const next = exclusiveRings(shape, slot).filter((piece) => ringAreaM2(piece) > 1e-3);
    if (next.length === count - 1) return { shape: next, at: place.at };
  }
  return null;
}

interface SlotPlace {
  readonly from: PlanPoint;
  readonly to: PlanPoint;
  readonly at: PlanPoint;
  readonly cost: number;
}

/** Places for a slot along a ring: straight on both sides, away from other slots, near the last one or the stub-up. */
function slotPlaces(
  ring: Ring,
  outer: Region,
  stepM: number,
  used: readonly PlanPoint[],
  stubUp: PlanPoint | null,
): SlotPlace[] {
  const path = closeRing(ring);
  const lengthM = polylineLengthM(path);
  const count = Math.min(240, Math.max(12, Math.round((3 * lengthM) / stepM)));
  const outerPaths = outer.map((each) => closeRing(each));
  const wrap = (alongM: number): number => ((alongM % lengthM) + lengthM) % lengthM;
  const goal = used.at(-1) ?? stubUp;
  const places: SlotPlace[] = [];
  for (let k = 0; k < count; k += 1) {
    const alongM = (lengthM * k) / count;
    const here = pointAlong(path, alongM);
    const before = pointAlong(path, wrap(alongM - 0.8 * stepM));
    const after = pointAlong(path, wrap(alongM + 0.8 * stepM));
    const bend = Math.abs(sinOf((after.headingRad - before.headingRad) / 2));
    const near = outerPaths
      .map((each) => nearestOnPath(here.at, each))
      .reduce((one, other) => (other.distanceM < one.distanceM ? other : one));
    if (near.distanceM > 1.8 * stepM) continue;
    const at = { x: (here.at.x + near.at.x) / 2, y: (here.at.y + near.at.y) / 2 };
    if (used.some((other) => distanceM(other, at) < 1.9 * stepM)) continue;
    const awayM = goal ? distanceM(goal, at) : 0;
    places.push({
      from: here.at,
      to: near.at,
      at,
      cost: 6 * bend + 2 * (near.distanceM / stepM - 1) + (0.3 * awayM) / stepM,
    });
  }
  return places.sort((one, other) => one.cost - other.cost || one.at.x - other.at.x || one.at.y - other.at.y);
}

/** A rectangle one row wide across the ground between two rings, a little longer at both ends. */
function slotRing(place: SlotPlace, stepM: number): Ring {
  const lengthM = distanceM(place.from, place.to);
  const ux = (place.to.x - place.from.x) / lengthM;
  const uy = (place.to.y - place.from.y) / lengthM;
  const halfM = stepM / 2;
  const overM = 0.3 * stepM;
  const corner = (along: number, across: number): PlanPoint => ({
    x: place.from.x + ux * along - uy * across,
    y: place.from.y + uy * along + ux * across,
  });
  return orientRing(
    [
      corner(-overM, -halfM),
      corner(lengthM + overM, -halfM),
      corner(lengthM + overM, halfM),
      corner(-overM, halfM),
    ],
    'anticlockwise',
  );
}

function roundOutline(outline: Ring, bendRadiusM: number, ground: Region): Ring | null {
  for (const radiusM of [1.4 * bendRadiusM, bendRadiusM * 1.02]) {
    const rounded = roundBothWays([orientRing(outline, 'anticlockwise')], radiusM, THIN_M);
    const region = intersectRings(rounded, ground);
    const parts = nestRings(region).filter((part) => ringAreaM2(part.outer) > bendRadiusM * bendRadiusM);
    const only = parts[0];
    if (parts.length === 1 && only && only.holes.every((hole) => ringAreaM2(hole) < 1e-3)) return only.outer;
  }
  return null;
}
