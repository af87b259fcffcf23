import { ringAreaM2, ringLengthM } from './ring';
import type { MultiPolygon, Polygon, Ring } from './types';

/** Ground of one polygon in m2, its holes taken off. */
export function polygonAreaM2(polygon: Polygon): number {
  return polygon.holes.reduce((areaM2, hole) => areaM2 - ringAreaM2(hole), ringAreaM2(polygon.outer));
}

/** Ground of all parts in m2. */
export function multiPolygonAreaM2(parts: MultiPolygon): number {
  return parts.reduce((areaM2, part) => areaM2 + polygonAreaM2(part), 0);
}

/** Length of all the edges of a polygon in metres, holes included. */
export function polygonPerimeterM(polygon: Polygon): number {
  return polygon.holes.reduce((lengthM, hole) => lengthM + ringLengthM(hole), ringLengthM(polygon.outer));
}

/** Every ring of every part, outer rings before their holes. */
export function ringsOf(parts: MultiPolygon): Ring[] {
  return parts.flatMap((part) => [part.outer, ...part.holes]);
}
