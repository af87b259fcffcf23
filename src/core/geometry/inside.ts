import type { MultiPolygon, PlanPoint, Polygon, Ring } from './types';

/** Is the point inside the ring (even-odd)? A point on the ring itself may answer either way. */
export function pointInRing(point: PlanPoint, ring: Ring): boolean {
  let inside = false;
  for (let index = 0, before = ring.length - 1; index < ring.length; before = index++) {
    const a = ring[index]!;
    const b = ring[before]!;
    if (a.y > point.y !== b.y > point.y && point.x < ((b.x - a.x) * (point.y - a.y)) / (b.y - a.y) + a.x)
      inside = !inside;
  }
  return inside;
}

/** Is the point on the polygon's ground, outside its holes? */
export function pointInPolygon(point: PlanPoint, polygon: Polygon): boolean {
  return pointInRing(point, polygon.outer) && !polygon.holes.some((hole) => pointInRing(point, hole));
}

/** Is the point on the ground of any part? */
export function pointInMultiPolygon(point: PlanPoint, parts: MultiPolygon): boolean {
  return parts.some((part) => pointInPolygon(point, part));
}
