import { Clipper, EndType, JoinType } from 'clipper2-ts';
import { fromGrid, nestRings, type Region, toGrid } from './clip';
import { CHORD_TOLERANCE_M, GRID_STEPS_PER_M } from './tolerance';
import type { MultiPolygon, PlanPoint, Polyline, Ring } from './types';

/** Corners after an offset: rounded, or sharp up to twice the distance. */
export type Join = 'round' | 'miter';

const MITER_LIMIT = 2;

/**
 * Rings moved outwards by `distanceM` (inwards where negative), measured square to each edge.
 * Arcs are chords that stray at most `CHORD_TOLERANCE_M`. Nothing is left where the region is too narrow.
 */
export function inflateRings(region: Region, distanceM: number, join: Join = 'round'): PlanPoint[][] {
  if (region.length === 0) return [];
  return Clipper.inflatePaths(
    region.map(toGrid),
    distanceM * GRID_STEPS_PER_M,
    join === 'round' ? JoinType.Round : JoinType.Miter,
    EndType.Polygon,
    MITER_LIMIT,
    CHORD_TOLERANCE_M * GRID_STEPS_PER_M,
  ).map(fromGrid);
}

/** Rings opened: ground thinner than twice `radiusM` is dropped, convex corners take that radius where joins are round. */
export function dropThinGround(region: Region, radiusM: number, join: Join = 'round'): PlanPoint[][] {
  return inflateRings(inflateRings(region, -radiusM, join), radiusM, join);
}

/** Rings closed: gaps thinner than twice `radiusM` are filled, reflex corners take that radius where joins are round. */
export function closeGaps(region: Region, radiusM: number, join: Join = 'round'): PlanPoint[][] {
  return inflateRings(inflateRings(region, radiusM, join), -radiusM, join);
}

/** Polygons grown by `distanceM`; negative shrinks. */
export function inflate(parts: MultiPolygon, distanceM: number, join: Join = 'round'): MultiPolygon {
  return nestRings(
    inflateRings(
      parts.flatMap((part) => [part.outer, ...part.holes]),
      distanceM,
      join,
    ),
  );
}

/** Polygons shrunk by `distanceM`: what is left at least that far from every edge. */
export function inset(parts: MultiPolygon, distanceM: number, join: Join = 'round'): MultiPolygon {
  return inflate(parts, -distanceM, join);
}

/** Ground within `radiusM` of an open path, round at its ends; a single point gives a disc. */
export function inflatePath(path: Polyline, radiusM: number): Ring[] {
  if (path.length === 0 || radiusM <= 0) return [];
  return Clipper.inflatePaths(
    [toGrid(path)],
    radiusM * GRID_STEPS_PER_M,
    JoinType.Round,
    EndType.Round,
    MITER_LIMIT,
    CHORD_TOLERANCE_M * GRID_STEPS_PER_M,
  ).map(fromGrid);
}
