import { cosOf, sinOf } from './steady';
import type { PlanPoint } from './types';

/** A point turned anticlockwise about `centre` (the origin unless said). */
export function rotatePoint(
  point: PlanPoint,
  angleRad: number,
  centre: PlanPoint = { x: 0, y: 0 },
): PlanPoint {
  const { cos, sin } = turnOf(angleRad);
  const x = point.x - centre.x;
  const y = point.y - centre.y;
  return { x: centre.x + x * cos - y * sin, y: centre.y + x * sin + y * cos };
}

/** Chain or ring turned anticlockwise about `centre`. */
export function rotatePoints(
  points: readonly PlanPoint[],
  angleRad: number,
  centre: PlanPoint = { x: 0, y: 0 },
): PlanPoint[] {
  const { cos, sin } = turnOf(angleRad);
  return points.map((point) => {
    const x = point.x - centre.x;
    const y = point.y - centre.y;
    return { x: centre.x + x * cos - y * sin, y: centre.y + x * sin + y * cos };
  });
}

/** Chain or ring moved by a distance east and north. */
export function translatePoints(points: readonly PlanPoint[], eastM: number, northM: number): PlanPoint[] {
  return points.map((point) => ({ x: point.x + eastM, y: point.y + northM }));
}

/** Chain mirrored about the north-south line at `atX`. A ring mirrored runs the other way round: orient it again. */
export function mirrorPoints(points: readonly PlanPoint[], atX = 0): PlanPoint[] {
  return points.map((point) => ({ x: 2 * atX - point.x, y: point.y }));
}

/** Cosine and sine, exact at quarter turns so that a bed turned by a right angle keeps its digits. */
function turnOf(angleRad: number): { cos: number; sin: number } {
  const quarters = angleRad / (Math.PI / 2);
  const whole = Math.round(quarters);
  if (Math.abs(quarters - whole) > 1e-12) return { cos: cosOf(angleRad), sin: sinOf(angleRad) };
  const quarter = ((whole % 4) + 4) % 4;
  return { cos: [1, 0, -1, 0][quarter]!, sin: [0, 1, 0, -1][quarter]! };
}
