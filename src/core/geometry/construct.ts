import { simplifyPath } from './simplify';
import type { PlanPoint, Polyline, Ring } from './types';
import { distanceM, headingRad, pointBetween } from './vector';

/** The point at a distance from `origin` in a direction (anticlockwise from east). */
export function pointFrom(origin: PlanPoint, angleRad: number, lengthM: number): PlanPoint {
  return { x: origin.x + Math.cos(angleRad) * lengthM, y: origin.y + Math.sin(angleRad) * lengthM };
}

/** The rectangle with two opposite corners, anticlockwise from its lowest left corner. */
export function rectangleRing(corner: PlanPoint, opposite: PlanPoint): Ring {
  const [minX, maxX] = [Math.min(corner.x, opposite.x), Math.max(corner.x, opposite.x)];
  const [minY, maxY] = [Math.min(corner.y, opposite.y), Math.max(corner.y, opposite.y)];
  return [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ];
}

/** The point at the same distance from `origin`, its direction turned to the nearest multiple of `stepRad`. */
export function heldDirection(origin: PlanPoint, at: PlanPoint, stepRad: number): PlanPoint {
  const lengthM = distanceM(origin, at);
  return pointFrom(origin, Math.round(headingRad(origin, at) / stepRad) * stepRad, lengthM);
}

/** The foot of the square dropped from a point on the endless line through `a` and `b`; `a` where they coincide. */
export function squareFoot(point: PlanPoint, a: PlanPoint, b: PlanPoint): PlanPoint {
  const [ux, uy] = [b.x - a.x, b.y - a.y];
  const length2 = ux * ux + uy * uy;
  if (length2 === 0) return a;
  const along = ((point.x - a.x) * ux + (point.y - a.y) * uy) / length2;
  return { x: a.x + along * ux, y: a.y + along * uy };
}

/** Height of an arc over its chord so that it passes through `through`, positive to the right of the way from a to b. */
export function sagittaThrough(a: PlanPoint, b: PlanPoint, through: PlanPoint): number {
  const chordM = distanceM(a, b);
  if (chordM === 0) return 0;
  const along = ((through.x - a.x) * (b.x - a.x) + (through.y - a.y) * (b.y - a.y)) / chordM - chordM / 2;
  const rightM = -((b.x - a.x) * (through.y - a.y) - (b.y - a.y) * (through.x - a.x)) / chordM;
  if (Math.abs(rightM) < 1e-9) return 0;
  // The circle through both ends and the point: centre at (0, k) over the chord's middle, sagitta = radius + k or radius - k.
  const half = chordM / 2;
  const centreM = (along * along + rightM * rightM - half * half) / (2 * rightM);
  const radiusM = Math.hypot(half, centreM);
  const sagittaM = rightM > 0 ? centreM + radiusM : centreM - radiusM;
  return sagittaM;
}

/** A hand's trail made calm: points nearer than the tolerance are dropped, then every corner is cut twice at its quarters. */
export function smoothTrail(trail: Polyline, toleranceM: number): PlanPoint[] {
  let points: readonly PlanPoint[] = simplifyPath(trail, toleranceM);
  for (let pass = 0; pass < 2 && points.length > 2; pass++) points = cutCorners(points);
  return simplifyPath(points, toleranceM / 8);
}

/** Chaikin's corner cutting (1974): each corner gives way to two points, a quarter along from either side; the ends stay. */
function cutCorners(points: readonly PlanPoint[]): readonly PlanPoint[] {
  const cut = points.slice(1).flatMap((to, index) => {
    const from = points[index]!;
    return [pointBetween(from, to, 0.25), pointBetween(from, to, 0.75)];
  });
  return [points[0]!, ...cut.slice(1, -1), points.at(-1)!];
}
