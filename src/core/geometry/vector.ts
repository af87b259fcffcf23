import { headingOf } from './steady';
import type { PlanPoint } from './types';

/** Straight distance between two points, metres. */
export function distanceM(a: PlanPoint, b: PlanPoint): number {
  // A plain root: several times quicker than `Math.hypot`, whose guard against overflow plan metres never need.
  return Math.sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
}

/** The point at `ratio` of the way from `a` (0) to `b` (1). */
export function pointBetween(a: PlanPoint, b: PlanPoint, ratio: number): PlanPoint {
  return { x: a.x + (b.x - a.x) * ratio, y: a.y + (b.y - a.y) * ratio };
}

/** Twice the signed area of the triangle a, b, c in m2: positive where c lies left of the line from a to b. */
export function turnAreaM2(a: PlanPoint, b: PlanPoint, c: PlanPoint): number {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/** Heading change at `b` on the way from `a` to `c`, radians in (-pi, pi], positive to the left. */
export function turnRad(a: PlanPoint, b: PlanPoint, c: PlanPoint): number {
  const firstX = b.x - a.x;
  const firstY = b.y - a.y;
  const secondX = c.x - b.x;
  const secondY = c.y - b.y;
  return headingOf(firstX * secondY - firstY * secondX, firstX * secondX + firstY * secondY);
}

/** Direction from `a` to `b`, radians anticlockwise from east. */
export function headingRad(a: PlanPoint, b: PlanPoint): number {
  return headingOf(b.y - a.y, b.x - a.x);
}
