import { Clipper64, ClipType, FillRule, type Path64, type Paths64 } from 'clipper2-ts';
import { circlePoints } from './arc';
import { fromGrid, nestRings, type Region, toGrid } from './clip';
import { type Join, movedRing } from './movedRing';
import { CHORD_TOLERANCE_M, GRID_STEPS_PER_M } from './tolerance';
import type { MultiPolygon, PlanPoint, Polyline, Ring } from './types';

export type { Join } from './movedRing';

/**
 * Rings moved outwards by `distanceM` (inwards where negative), measured square to each edge.
 * Arcs are chords that stray at most `CHORD_TOLERANCE_M`. Nothing is left where the region is too narrow.
 */
export function inflateRings(region: Region, distanceM: number, join: Join = 'round'): PlanPoint[][] {
  if (region.length === 0) return [];
  return moved(region.map(toGrid), distanceM, join).map(fromGrid);
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
  const grid = toGrid(path);
  if (grid.every(({ x, y }) => x === grid[0]!.x && y === grid[0]!.y))
    return [fromGrid(toGrid(circlePoints(path[0]!, radiusM)))];
  const thereAndBack = [...grid, ...grid.slice(1, -1).reverse()];
  return union([movedRing(thereAndBack, radiusM * GRID_STEPS_PER_M, 'round', CHORD_STEPS)], false).map(
    fromGrid,
  );
}

const CHORD_STEPS = CHORD_TOLERANCE_M * GRID_STEPS_PER_M;
/** A distance below half a grid step moves nothing. */
const LEAST_STEPS = 0.5;

function moved(rings: Paths64, distanceM: number, join: Join): Paths64 {
  const steps = distanceM * GRID_STEPS_PER_M;
  if (Math.abs(steps) < LEAST_STEPS) return rings;
  const isClockwise = runsClockwise(rings);
  const outwards = isClockwise ? -steps : steps;
  return union(
    rings.map((ring) => movedRing(ring, outwards, join, CHORD_STEPS)),
    isClockwise,
  );
}

/** What winds the right way round, as rings without crossings. */
function union(rings: Paths64, isClockwise: boolean): Paths64 {
  const engine = new Clipper64();
  engine.preserveCollinear = false;
  engine.reverseSolution = isClockwise;
  engine.addSubject(rings);
  const found: Paths64 = [];
  engine.execute(ClipType.Union, isClockwise ? FillRule.Negative : FillRule.Positive, found);
  return found;
}

/** Do outer rings run clockwise? The lowest of all points lies on one. */
function runsClockwise(rings: Paths64): boolean {
  let lowest: Path64 | null = null;
  let at = { x: 0, y: Number.POSITIVE_INFINITY };
  for (const ring of rings)
    for (const point of ring)
      if (point.y < at.y || (point.y === at.y && point.x < at.x)) {
        at = point;
        lowest = ring;
      }
  return lowest !== null && twiceArea(lowest) < 0;
}

function twiceArea(ring: Path64): number {
  let twice = 0;
  for (let index = 0, before = ring.length - 1; index < ring.length; before = index++)
    twice += ring[before]!.x * ring[index]!.y - ring[index]!.x * ring[before]!.y;
  return twice;
}
