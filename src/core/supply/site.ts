import {
  type Box,
  boxesTouch,
  boxOf,
  boxOfAll,
  circlePoints,
  closeGaps,
  inflate,
  inflatePath,
  inset,
  type MultiPolygon,
  nestRings,
  type PlanPoint,
  pointBetween,
  pointInMultiPolygon,
  quantisePoint,
  type Ring,
  ringsOf,
  SegmentIndex,
  segmentCrossing,
  simplifyRing,
  unite,
} from '../geometry';
import type { Plan, Structure } from '../plan';
import { undrawnGround } from './undrawn';

/** Ground of one kind, indexed so that a trench line can be held against it quickly. */
export interface Area {
  readonly id: string;
  readonly name: string;
  readonly ground: MultiPolygon;
  readonly box: Box | null;
  readonly index: SegmentIndex;
}

/** What a trench meets on this site. */
export interface Site {
  /** Buildings, obstacles, trunks and root balls as drawn, and what the classes of the beds' edges tell of. */
  readonly blocked: MultiPolygon;
  /** The same, 2 mm smaller: touching a wall is not crossing it. */
  readonly solid: Area;
  readonly paving: readonly Area[];
  /** All paving as one ground: pieces that touch are crossed in one go. */
  readonly paved: Area;
  readonly beds: readonly Area[];
  /** Places where a trench may bend. */
  readonly corners: readonly PlanPoint[];
}

/** How far from a wall or an obstacle a trench bends, and how far inside or outside a bed's edge it runs. */
const WALL_STANDOFF_M = 0.3;
const NARROW_STANDOFF_M = 0.08;
const BED_STANDOFF_M = 0.15;
const TOUCH_M = 0.002;
/** Pieces of paving this near each other are one piece to a trench. */
const SEAM_M = 0.05;
const THIN_WALL_M = 0.05;
const MOST_CORNERS_OF_A_RING = 24;

/** Ground with an index of its edges. */
export function areaOf(id: string, name: string, ground: MultiPolygon): Area {
  const rings = ringsOf(ground);
  return { id, name, ground, box: boxOfAll(rings), index: SegmentIndex.ofRings(rings) };
}

/** Ground a drawn structure stands on. Lines without width count as thin walls. */
export function structureGround(structure: Structure): MultiPolygon {
  switch (structure.shape.kind) {
    case 'area':
      return nestRings(structure.shape.rings, 'even-odd');
    case 'line':
      return nestRings(inflatePath(structure.shape.path, Math.max(structure.shape.widthM / 2, THIN_WALL_M)));
    case 'disc':
      return nestRings([circlePoints(structure.shape.at, Math.max(structure.shape.radiusM, THIN_WALL_M))]);
  }
}

/** Parts of the straight line a-b inside the ground, as ratios of its length, ascending and disjoint. */
export function spansInside(area: Area, a: PlanPoint, b: PlanPoint): [number, number][] {
  const box = boxOf([a, b])!;
  if (!area.box || !boxesTouch(area.box, box)) return [];
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const squared = dx * dx + dy * dy;
  if (squared === 0) return [];
  const cuts = [0, 1];
  for (const edge of area.index.touching(box)) {
    const at = segmentCrossing(a, b, edge.a, edge.b);
    if (at) cuts.push(Math.min(1, Math.max(0, ((at.x - a.x) * dx + (at.y - a.y) * dy) / squared)));
  }
  cuts.sort((one, other) => one - other);
  const spans: [number, number][] = [];
  for (let index = 1; index < cuts.length; index++) {
    const from = cuts[index - 1]!;
    const to = cuts[index]!;
    if (to - from < 1e-9 || !pointInMultiPolygon(pointBetween(a, b, (from + to) / 2), area.ground)) continue;
    const last = spans.at(-1);
    if (last && from - last[1] < 1e-9) last[1] = to;
    else spans.push([from, to]);
  }
  return spans;
}

function fewCorners(ring: Ring): PlanPoint[] {
  let toleranceM = 0.1;
  let few = simplifyRing(ring, toleranceM);
  while (few.length > MOST_CORNERS_OF_A_RING && toleranceM < 100) {
    toleranceM *= 2;
    few = simplifyRing(ring, toleranceM);
  }
  return few;
}
const cornersOf = (ground: MultiPolygon): PlanPoint[] => ringsOf(ground).flatMap(fewCorners);

/**
 * What a trench meets on the site: what it must go round, what it passes under in a sleeve, the beds it should keep to the
 * edge of, and the places where it may bend.
 *
 * @param served outlines as designed, by bed id; several feeds of one bed may each bring its outline, which counts once
 */
export function siteOf(
  plan: Plan,
  served: readonly { readonly bedId: string; readonly name: string; readonly outline: MultiPolygon }[],
): Site {
  const beds = [...new Map(served.map((bed) => [bed.outline, bed])).values()];
  const structures = Object.values(plan.structures).sort((a, b) => (a.id < b.id ? -1 : 1));
  const stood = structures.filter(({ kind }) => kind === 'building' || kind === 'obstacle');
  const discs = [
    ...Object.values(plan.trees).map((tree) => ({ at: tree.at, radiusM: tree.trunkRadiusM })),
    ...Object.values(plan.plants).map((plant) => ({ at: plant.at, radiusM: plant.rootBallRadiusM })),
  ]
    .filter(({ radiusM }) => radiusM > 0)
    .map(({ at, radiusM }) => nestRings([circlePoints(at, radiusM)]));
  const bedAreas = beds.map(({ bedId, name, outline }) => areaOf(bedId, name, outline));
  const undrawn = undrawnGround(
    plan,
    unite(...beds.map(({ outline }) => outline)),
    unite(...structures.filter(({ kind }) => kind === 'building').map(structureGround)),
  );
  const blocked = unite(...stood.map(structureGround), ...discs, undrawn.blocked);
  const paving = structures
    .filter(({ kind }) => kind === 'paving')
    .map((structure) => areaOf(structure.id, structure.name, structureGround(structure)));
  const pavedGround = nestRings(
    closeGaps(ringsOf(unite(...paving.map(({ ground }) => ground), undrawn.paved)), SEAM_M),
  );
  const paved = areaOf('paved', '', pavedGround);
  const around = areaOf('around', '', inflate(blocked, NARROW_STANDOFF_M / 2));
  const bends = [
    ...cornersOf(inflate(blocked, WALL_STANDOFF_M, 'miter')),
    ...cornersOf(inflate(blocked, NARROW_STANDOFF_M, 'miter')),
    ...bedAreas.flatMap(({ ground }) => [
      ...cornersOf(inflate(ground, BED_STANDOFF_M, 'miter')),
      ...cornersOf(inset(ground, BED_STANDOFF_M, 'miter')),
    ]),
  ].map(quantisePoint);
  // A place that two beds share is one place: a search that looks at the nearest few would see nothing else.
  const corners = [...new Map(bends.map((corner) => [`${corner.x},${corner.y}`, corner])).values()]
    .filter((corner) => !pointInMultiPolygon(corner, around.ground))
    .filter((corner) => !pointInMultiPolygon(corner, pavedGround));
  const solid = areaOf('blocked', '', inset(blocked, TOUCH_M));
  return { blocked, solid, paving, paved, beds: bedAreas, corners };
}
