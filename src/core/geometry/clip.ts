import {
  Clipper,
  ClipType,
  FillRule,
  type Path64,
  type Paths64,
  type PolyPath64,
  PolyTree64,
} from 'clipper2-ts';
import { pathsNear } from './pathsNear';
import { GRID_STEPS_PER_M } from './tolerance';
import type { MultiPolygon, PlanPoint, Polygon, Ring } from './types';

/** Rings as one region: ground is where the rings wind round it at least once (outer anticlockwise, holes clockwise). */
export type Region = readonly Ring[];

/** How overlapping rings are read: by winding, or by counting crossings (what a person means by a bow-tie). */
export type Filling = 'winding' | 'even-odd';

/** Points in grid steps, as the clipping engine wants them. */
export function toGrid(points: readonly PlanPoint[]): Path64 {
  return points.map((point) => ({
    x: Math.round(point.x * GRID_STEPS_PER_M),
    y: Math.round(point.y * GRID_STEPS_PER_M),
  }));
}

/** Grid steps back to metres. */
export function fromGrid(path: Path64): PlanPoint[] {
  return path.map((point) => ({ x: point.x / GRID_STEPS_PER_M + 0, y: point.y / GRID_STEPS_PER_M + 0 }));
}

const allToGrid = (region: Region): Paths64 => region.map(toGrid);
const allFromGrid = (paths: Paths64): PlanPoint[][] => paths.map(fromGrid);
const rule = (filling: Filling): FillRule => (filling === 'winding' ? FillRule.NonZero : FillRule.EvenOdd);

/** All ground of the rings, overlaps merged. */
export function uniteRings(region: Region, filling: Filling = 'winding'): PlanPoint[][] {
  return allFromGrid(Clipper.union(allToGrid(region), rule(filling)));
}

/** Ground of the first region that is in the second too. */
export function intersectRings(a: Region, b: Region): PlanPoint[][] {
  if (a.length === 0 || b.length === 0) return [];
  const near = pathsNear(allToGrid(a), allToGrid(b));
  const about = pathsNear(allToGrid(b), near);
  if (near.length === 0 || about.length === 0) return [];
  return allFromGrid(Clipper.intersect(near, about, FillRule.NonZero));
}

/** Ground of the first region that is not in the second. */
export function subtractRings(a: Region, b: Region): PlanPoint[][] {
  if (a.length === 0) return [];
  const from = allToGrid(a);
  return allFromGrid(Clipper.difference(from, pathsNear(allToGrid(b), from), FillRule.NonZero));
}

/** Ground that is in one region only. */
export function exclusiveRings(a: Region, b: Region): PlanPoint[][] {
  return allFromGrid(Clipper.xor(allToGrid(a), allToGrid(b), FillRule.NonZero));
}

/** Rings sorted into parts with their holes; parts inside holes are parts of their own. */
export function nestRings(region: Region, filling: Filling = 'winding'): Polygon[] {
  const tree = new PolyTree64();
  Clipper.booleanOpWithPolyTree(ClipType.Union, allToGrid(region), null, tree, rule(filling));
  const parts: Polygon[] = [];
  const collect = (parent: PolyPath64 | PolyTree64): void => {
    for (let index = 0; index < parent.count; index++) {
      const node = parent.child(index);
      const holes: Ring[] = [];
      for (let hole = 0; hole < node.count; hole++) {
        holes.push(fromGrid(node.child(hole).poly ?? []));
        collect(node.child(hole));
      }
      parts.push({ outer: fromGrid(node.poly ?? []), holes });
    }
  };
  collect(tree);
  return parts;
}

const flat = (parts: MultiPolygon): Ring[] => parts.flatMap((part) => [part.outer, ...part.holes]);

/** Union of polygons, holes kept. */
export function unite(...groups: readonly MultiPolygon[]): MultiPolygon {
  return nestRings(groups.flatMap(flat));
}

/** Ground of `a` that is not in `b`. */
export function subtract(a: MultiPolygon, b: MultiPolygon): MultiPolygon {
  return nestRings(subtractRings(flat(a), flat(b)));
}

/** Ground common to both. */
export function intersect(a: MultiPolygon, b: MultiPolygon): MultiPolygon {
  return nestRings(intersectRings(flat(a), flat(b)));
}

/** Ground in one of the two only. */
export function exclusive(a: MultiPolygon, b: MultiPolygon): MultiPolygon {
  return nestRings(exclusiveRings(flat(a), flat(b)));
}
