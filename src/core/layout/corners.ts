import {
  cosOf,
  distanceM,
  headingOf,
  type PlanPoint,
  type Polyline,
  sinOf,
  tanOf,
  turnRad,
} from '../geometry';

/** Chords of a bend turn at most this much each, so that a bend drawn and a bend measured agree within a percent. */
const CHORD_TURN_RAD = Math.PI / 18;
/** Corners flatter than this are already gentler than any tubing's bend radius over a hand's length. */
const FLAT_RAD = 0.02;

/**
 * An open path with its corners bent to `radiusM`, or as near as the lengths on both sides allow. Ends stay.
 */
export function bendCorners(path: Polyline, radiusM: number): PlanPoint[] {
  const bent: PlanPoint[] = path.length > 0 ? [path[0]!] : [];
  for (let i = 1; i + 1 < path.length; i += 1) {
    const a = path[i - 1]!;
    const b = path[i]!;
    const c = path[i + 1]!;
    const turned = turnRad(a, b, c);
    if (Math.abs(turned) < FLAT_RAD) {
      bent.push(b);
      continue;
    }
    const room = Math.min(
      distanceM(a, b) * (i === 1 ? 1 : 0.5),
      distanceM(b, c) * (i + 2 === path.length ? 1 : 0.5),
    );
    const tangentM = Math.min(radiusM * tanOf(Math.abs(turned) / 2), room);
    bent.push(...arcAt(a, b, c, turned, tangentM));
  }
  if (path.length > 1) bent.push(path.at(-1)!);
  return bent;
}

function arcAt(a: PlanPoint, b: PlanPoint, c: PlanPoint, turned: number, tangentM: number): PlanPoint[] {
  const radiusM = tangentM / tanOf(Math.abs(turned) / 2);
  const ux = (b.x - a.x) / distanceM(a, b);
  const uy = (b.y - a.y) / distanceM(a, b);
  const start = { x: b.x - ux * tangentM, y: b.y - uy * tangentM };
  const side = Math.sign(turned);
  const centre = { x: start.x - side * uy * radiusM, y: start.y + side * ux * radiusM };
  const from = headingOf(start.y - centre.y, start.x - centre.x);
  const count = Math.max(1, Math.ceil(Math.abs(turned) / CHORD_TURN_RAD));
  const points: PlanPoint[] = [start];
  for (let k = 1; k < count; k += 1) {
    const angle = from + (turned * k) / count;
    points.push({ x: centre.x + radiusM * cosOf(angle), y: centre.y + radiusM * sinOf(angle) });
  }
  const length = distanceM(b, c);
  points.push({ x: b.x + ((c.x - b.x) * tangentM) / length, y: b.y + ((c.y - b.y) * tangentM) / length });
  return points;
}
