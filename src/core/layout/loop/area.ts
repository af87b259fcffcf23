import {
  CHORD_TOLERANCE_M,
  circlePoints,
  cleanOutline,
  DIRT_AREA_M2,
  distanceM,
  inflatePath,
  inflateRings,
  type MultiPolygon,
  nestRings,
  type PlanPoint,
  polygonAreaM2,
  type Region,
  type Ring,
  ringsOf,
  SegmentIndex,
  subtractRings,
  turnRad,
  uniteRings,
} from '../../geometry';
import type { BedRing, Obstacle } from '../types';

/** Corners that turn less than this are taken for a curve: 20 degrees, above the steps of any drawn circle of ten points or more. */
const CORNER_RAD = (20 * Math.PI) / 180;

/** A bed's ground as the router sees it. */
export interface UsableArea {
  /** The bed itself, cleaned. */
  readonly outline: MultiPolygon;
  /** Ground no nearer to any edge than that edge's own offset, nor to an obstacle than its clearance. */
  readonly usable: MultiPolygon;
  /** Usable ground less what tubing cannot reach round reflex corners without bending tighter than it may. */
  readonly routable: MultiPolygon;
}

/**
 * The ground tubing may lie on: the bed less every raw edge inflated by its own offset (round ends and joins), less the
 * obstacles inflated by their clearance. Exact by definition, so dirty outlines need no special case.
 *
 * @param rings outer ring first, then holes, with the offset of each edge; repeats, spikes and crossings allowed
 * @param bendRadiusM tightest bend of the tubing: a reflex corner with a smaller offset is kept off by a disc of that radius
 */
export function usableArea(
  rings: readonly BedRing[],
  obstacles: readonly Obstacle[],
  bendRadiusM: number,
): UsableArea {
  const outline = cleanOutline(rings.map((ring) => ring.points)).parts;
  const ground = ringsOf(outline);
  const strips = uniteRings([
    ...rings.flatMap(edgeStrips),
    ...obstacles.flatMap((obstacle) => obstacleStrip(obstacle, obstacle.clearanceM)),
  ]);
  const usable = subtractRings(ground, strips);
  const keepOff = uniteRings([
    ...cornerDiscs(outline, rings, bendRadiusM),
    ...obstacles.flatMap((obstacle) => obstacleStrip(obstacle, Math.max(obstacle.clearanceM, bendRadiusM))),
  ]);
  return { outline, usable: sound(usable), routable: sound(subtractRings(usable, keepOff)) };
}

/** Ground nearer to a ring's edges than their offsets: runs of edges with one offset are inflated as one chain. */
function edgeStrips(ring: BedRing): Ring[] {
  const count = ring.points.length;
  const offsetM = (index: number): number => ring.edges[index % count]?.offsetM ?? 0;
  const breaks = ring.points.flatMap((_, index) =>
    offsetM(index) !== offsetM(index + count - 1) ? [index] : [],
  );
  if (breaks.length === 0) return inflatePath([...ring.points, ring.points[0]!], offsetM(0));
  return breaks.flatMap((from, order) => {
    const next = breaks[order + 1] ?? breaks[0]! + count;
    const chain = Array.from({ length: next - from + 1 }, (_, step) => ring.points[(from + step) % count]!);
    return inflatePath(chain, offsetM(from));
  });
}

function obstacleStrip(obstacle: Obstacle, clearanceM: number): Ring[] {
  return inflateRings(uniteRings([obstacle.outline], 'even-odd'), clearanceM);
}

/**
 * Discs round reflex corners whose own offsets are smaller than the bend: tubing led round them keeps its radius. Each lies as
 * far back behind its corner as keeps the corner's own offset, so that as little ground as can be is lost beside it.
 */
function cornerDiscs(outline: MultiPolygon, rings: readonly BedRing[], bendRadiusM: number): Ring[] {
  const index = SegmentIndex.ofRings(rings.map((ring) => ring.points));
  const offsetAtM = (corner: PlanPoint): number =>
    Math.max(
      0,
      ...index
        .near(corner, CHORD_TOLERANCE_M)
        .map((segment) => rings[segment.chain]?.edges[segment.edge]?.offsetM ?? 0),
    );
  return ringsOf(outline).flatMap((ring) =>
    ring.flatMap((corner, position) => {
      const before = ring[(position + ring.length - 1) % ring.length]!;
      const after = ring[(position + 1) % ring.length]!;
      if (turnRad(before, corner, after) > -CORNER_RAD) return [];
      const backM = bendRadiusM - offsetAtM(corner);
      return backM > 0 ? [circlePoints(behind(corner, before, after, backM), bendRadiusM)] : [];
    }),
  );
}

/** The point `backM` behind a corner, along the line that halves the angle of its two edges. */
function behind(corner: PlanPoint, before: PlanPoint, after: PlanPoint, backM: number): PlanPoint {
  const towards = [before, after].map((end) => {
    const lengthM = distanceM(corner, end);
    return { x: (end.x - corner.x) / lengthM, y: (end.y - corner.y) / lengthM };
  });
  const x = towards[0]!.x + towards[1]!.x;
  const y = towards[0]!.y + towards[1]!.y;
  const length = Math.hypot(x, y);
  return length > 0 ? { x: corner.x + (backM * x) / length, y: corner.y + (backM * y) / length } : corner;
}

function sound(region: Region): MultiPolygon {
  return nestRings(region).filter((part) => polygonAreaM2(part) > DIRT_AREA_M2);
}
