import type { PlanPoint, Polygon, Ring } from '../../geometry';
import { headingOf } from '../../geometry';

/** Edges whose directions differ less than this count as one direction: 1.7 degrees, what a string line shows at a glance. */
const SAME_DIRECTION_RAD = 0.03;
/** Turned about evenly where a bed has no edge to follow (curved outlines). */
const EVEN_DIRECTIONS = 6;

/**
 * Directions rows may take, best guess first, radians in [0, pi): the heaviest edge directions, the principal axis, and
 * some even ones where the outline has no straight edges worth following. The first point of a slope or of the designer
 * comes before all these and is not asked for here.
 *
 * @param shortestM edges shorter than this have no say
 */
export function rowDirections(ground: Polygon, shortestM: number, atMost: number): number[] {
  const heaviest = edgeDirections([ground.outer, ...ground.holes], shortestM);
  const straight = heaviest.slice(0, 4).map((edge) => edge.angleRad);
  const axisRad = principalAxisRad(ground.outer);
  const even =
    straight.length < 2
      ? Array.from({ length: EVEN_DIRECTIONS }, (_, step) => axisRad + (step * Math.PI) / EVEN_DIRECTIONS)
      : [axisRad, axisRad + Math.PI / 2];
  const distinct: number[] = [];
  for (const angleRad of [...straight, ...even]) {
    const half = halfTurn(angleRad);
    if (distinct.every((other) => directionGapRad(half, other) > SAME_DIRECTION_RAD)) distinct.push(half);
  }
  return distinct.slice(0, atMost);
}

interface EdgeDirection {
  readonly angleRad: number;
  readonly lengthM: number;
}

/** Edge directions with the length behind each, heaviest first; ties by angle. */
function edgeDirections(rings: readonly Ring[], shortestM: number): EdgeDirection[] {
  const found: { angleRad: number; lengthM: number; longestM: number }[] = [];
  rings.forEach((ring) => {
    ring.forEach((from, index) => {
      weigh(from, ring[(index + 1) % ring.length]!);
    });
  });
  return found.sort((one, other) => other.lengthM - one.lengthM || one.angleRad - other.angleRad);

  function weigh(from: PlanPoint, to: PlanPoint): void {
    const lengthM = Math.hypot(to.x - from.x, to.y - from.y);
    if (lengthM < shortestM) return;
    const angleRad = halfTurn(headingOf(to.y - from.y, to.x - from.x));
    const same = found.find((other) => directionGapRad(angleRad, other.angleRad) < SAME_DIRECTION_RAD);
    if (!same) found.push({ angleRad, lengthM, longestM: lengthM });
    else {
      same.lengthM += lengthM;
      if (lengthM > same.longestM) {
        same.longestM = lengthM;
        same.angleRad = angleRad;
      }
    }
  }
}

/** Direction along which the ground stretches furthest, from the second moments of its area. */
function principalAxisRad(ring: Ring): number {
  let areaM2 = 0;
  const first = { x: 0, y: 0 };
  const second = { xx: 0, yy: 0, xy: 0 };
  const from = ring[0]!;
  for (let index = 0, before = ring.length - 1; index < ring.length; before = index++) {
    const a = { x: ring[before]!.x - from.x, y: ring[before]!.y - from.y };
    const b = { x: ring[index]!.x - from.x, y: ring[index]!.y - from.y };
    const cross = a.x * b.y - b.x * a.y;
    areaM2 += cross / 2;
    first.x += ((a.x + b.x) * cross) / 6;
    first.y += ((a.y + b.y) * cross) / 6;
    second.xx += ((a.x * a.x + a.x * b.x + b.x * b.x) * cross) / 12;
    second.yy += ((a.y * a.y + a.y * b.y + b.y * b.y) * cross) / 12;
    second.xy += ((a.x * b.y + 2 * a.x * a.y + 2 * b.x * b.y + b.x * a.y) * cross) / 24;
  }
  const meanX = first.x / areaM2;
  const meanY = first.y / areaM2;
  const xx = second.xx / areaM2 - meanX * meanX;
  const yy = second.yy / areaM2 - meanY * meanY;
  const xy = second.xy / areaM2 - meanX * meanY;
  return halfTurn(0.5 * headingOf(2 * xy, xx - yy));
}

/** A row has no beginning: its direction modulo half a turn, in [0, pi), the last hair below pi counted as 0. */
export function halfTurn(angleRad: number): number {
  const rounded = Math.round((((angleRad % Math.PI) + Math.PI) % Math.PI) * 1e6) / 1e6;
  return rounded >= Math.PI - 1e-6 ? 0 : rounded;
}

function directionGapRad(one: number, other: number): number {
  const gap = Math.abs(one - other) % Math.PI;
  return Math.min(gap, Math.PI - gap);
}
