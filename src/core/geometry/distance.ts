import { pointInPolygon } from './inside';
import type { Box, PlanPoint, Polygon, Ring } from './types';
import { distanceM, turnAreaM2 } from './vector';

/** Nearest point of a segment to a point: where, how far, and how far along (0 at `a`, 1 at `b`). */
export interface NearestOnSegment {
  readonly at: PlanPoint;
  readonly distanceM: number;
  readonly ratio: number;
}

/** The point of segment a-b nearest to `point`. A segment of no length is a point. */
export function nearestOnSegment(point: PlanPoint, a: PlanPoint, b: PlanPoint): NearestOnSegment {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const squared = dx * dx + dy * dy;
  const along = squared > 0 ? ((point.x - a.x) * dx + (point.y - a.y) * dy) / squared : 0;
  const ratio = Math.min(1, Math.max(0, along));
  const at = { x: a.x + dx * ratio, y: a.y + dy * ratio };
  return { at, distanceM: distanceM(point, at), ratio };
}

/** Distance from a point to a segment, metres. */
export function distanceToSegmentM(point: PlanPoint, a: PlanPoint, b: PlanPoint): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const squared = dx * dx + dy * dy;
  const along = squared > 0 ? ((point.x - a.x) * dx + (point.y - a.y) * dy) / squared : 0;
  const ratio = Math.min(1, Math.max(0, along));
  const offX = point.x - a.x - dx * ratio;
  const offY = point.y - a.y - dy * ratio;
  return Math.sqrt(offX * offX + offY * offY);
}

/** Do two segments cross or touch? */
export function segmentsMeet(a: PlanPoint, b: PlanPoint, c: PlanPoint, d: PlanPoint): boolean {
  const sideC = turnAreaM2(a, b, c);
  const sideD = turnAreaM2(a, b, d);
  const sideA = turnAreaM2(c, d, a);
  const sideB = turnAreaM2(c, d, b);
  if (sideC * sideD < 0 && sideA * sideB < 0) return true;
  const onSegment = (p: PlanPoint, q: PlanPoint, side: number, r: PlanPoint): boolean =>
    side === 0 &&
    Math.min(p.x, q.x) <= r.x &&
    r.x <= Math.max(p.x, q.x) &&
    Math.min(p.y, q.y) <= r.y &&
    r.y <= Math.max(p.y, q.y);
  return (
    onSegment(a, b, sideC, c) ||
    onSegment(a, b, sideD, d) ||
    onSegment(c, d, sideA, a) ||
    onSegment(c, d, sideB, b)
  );
}

/** Does a segment enter a box, or touch it? One that enters without ending there crosses one of its diagonals. */
export function segmentEntersBox(a: PlanPoint, b: PlanPoint, box: Box): boolean {
  const isIn = ({ x, y }: PlanPoint): boolean =>
    x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY;
  const corner = (x: number, y: number): PlanPoint => ({ x, y });
  return (
    isIn(a) ||
    isIn(b) ||
    segmentsMeet(a, b, corner(box.minX, box.minY), corner(box.maxX, box.maxY)) ||
    segmentsMeet(a, b, corner(box.minX, box.maxY), corner(box.maxX, box.minY))
  );
}

/** Do two segments cross at an inner point of both? Touching ends do not count. */
export function segmentsCross(a: PlanPoint, b: PlanPoint, c: PlanPoint, d: PlanPoint): boolean {
  return turnAreaM2(a, b, c) * turnAreaM2(a, b, d) < 0 && turnAreaM2(c, d, a) * turnAreaM2(c, d, b) < 0;
}

/** Where two segments cross; null where they do not, or run along each other. */
export function segmentCrossing(a: PlanPoint, b: PlanPoint, c: PlanPoint, d: PlanPoint): PlanPoint | null {
  const before = turnAreaM2(c, d, a);
  const after = turnAreaM2(c, d, b);
  if (before === after || !segmentsMeet(a, b, c, d)) return null;
  const ratio = before / (before - after);
  return { x: a.x + (b.x - a.x) * ratio, y: a.y + (b.y - a.y) * ratio };
}

/** Least distance between two segments, metres; 0 where they meet. */
export function distanceBetweenSegmentsM(a: PlanPoint, b: PlanPoint, c: PlanPoint, d: PlanPoint): number {
  if (segmentsMeet(a, b, c, d)) return 0;
  return Math.min(
    distanceToSegmentM(a, c, d),
    distanceToSegmentM(b, c, d),
    distanceToSegmentM(c, a, b),
    distanceToSegmentM(d, a, b),
  );
}

/** Distance from a point to the line of a ring (not its ground), metres. */
export function distanceToRingM(point: PlanPoint, ring: Ring): number {
  let nearestM = Number.POSITIVE_INFINITY;
  for (let index = 0, before = ring.length - 1; index < ring.length; before = index++)
    nearestM = Math.min(nearestM, distanceToSegmentM(point, ring[before]!, ring[index]!));
  return nearestM;
}

/** Distance from a point to a polygon's nearest edge: positive on its ground, negative off it, metres. */
export function signedDistanceToPolygonM(point: PlanPoint, polygon: Polygon): number {
  let nearestM = distanceToRingM(point, polygon.outer);
  for (const hole of polygon.holes) nearestM = Math.min(nearestM, distanceToRingM(point, hole));
  return pointInPolygon(point, polygon) ? nearestM : -nearestM;
}
