import {
  cosOf,
  distanceM,
  distancesAlongM,
  headingOf,
  type PlanPoint,
  type Polygon,
  type Polyline,
  pointInPolygon,
  pointsAlong,
  type Ring,
  ringLengthM,
  segmentCrossing,
  simplifyPath,
  sinOf,
} from '../geometry';

const MOST_SAMPLES = 400;
/** A centreline may stray this far from the exact middle and be drawn straight. */
const STRAIGHTEN_M = 0.02;

/**
 * The line down the middle of long narrow ground, end to end: both long sides are walked at once, matched point to
 * point by least total distance, and straight stretches are fitted to the middles. Made for strips, straight, bent or
 * tapering; on ground that branches it follows the longest way. Null where there is nothing to follow.
 *
 * @param stepM  spacing of the points the sides are walked by
 */
export function centrelineOf(ground: Polygon, stepM: number): Polyline | null {
  const perimeterM = ringLengthM(ground.outer);
  if (ground.outer.length < 3 || perimeterM < 4 * stepM) return null;
  const step = Math.max(stepM, perimeterM / MOST_SAMPLES);
  const [left, right] = longSides(ground.outer, step);
  if (left.length < 3 || right.length < 3) return null;
  const straightened = fitStretches(withoutEnds(matchSides(left, right)));
  return reachEnds(straightened, ground);
}

/** A step of the ladder between two sides: its middle and half its length. */
interface Rung {
  readonly at: PlanPoint;
  readonly halfM: number;
}

/** Near an end the ladder runs into a corner: the middles there are left out and the line is carried straight on later. */
function withoutEnds(rungs: readonly Rung[]): PlanPoint[] {
  const points = rungs.map((rung) => rung.at);
  const along = distancesAlongM(points);
  const lengthM = along.at(-1) ?? 0;
  const endM = (from: number, way: 1 | -1): number => {
    let widest = 0;
    for (
      let i = from;
      i >= 0 && i < rungs.length && Math.abs(along[i]! - along[from]!) < lengthM / 5;
      i += way
    )
      widest = Math.max(widest, rungs[i]!.halfM);
    return Math.min(lengthM / 5, 2.2 * widest);
  };
  const startM = endM(0, 1);
  const stopM = lengthM - endM(rungs.length - 1, -1);
  return points.filter((_, i) => along[i]! >= startM && along[i]! <= stopM);
}

/** The outline from one far end to the other, both ways round. */
function longSides(outer: Ring, stepM: number): [PlanPoint[], PlanPoint[]] {
  const count = Math.max(12, 2 * Math.round(ringLengthM(outer) / stepM / 2));
  const closed = [...outer, outer[0]!];
  const lengthM = ringLengthM(outer);
  const points = pointsAlong(
    closed,
    Array.from({ length: count }, (_, i) => (lengthM * i) / count),
  ).map((p) => p.at);
  const [first, second] = farEnds(points);
  const walk = (from: number, to: number, way: 1 | -1): PlanPoint[] => {
    const chain: PlanPoint[] = [];
    for (let i = from; i !== to; i = (i + way + count) % count) chain.push(points[i]!);
    chain.push(points[to]!);
    return chain;
  };
  return [walk(first, second, 1), walk(first, second, -1)];
}

/** The pair of outline points furthest from each other in a straight line, given that each is far along the outline too. */
function farEnds(points: readonly PlanPoint[]): [number, number] {
  const count = points.length;
  let best: [number, number] = [0, Math.floor(count / 2)];
  let bestScore = -1;
  for (let i = 0; i < count; i += 1) {
    for (let j = i + 1; j < count; j += 1) {
      const share = Math.min(j - i, count - (j - i)) / (count / 2);
      if (share < 0.75) continue;
      const score = distanceM(points[i]!, points[j]!) * share;
      if (score > bestScore + 1e-9) {
        bestScore = score;
        best = [i, j];
      }
    }
  }
  return best;
}

/** Middles of the least-cost ladder between two sides (dynamic time warping). */
function matchSides(left: readonly PlanPoint[], right: readonly PlanPoint[]): Rung[] {
  const rows = left.length;
  const columns = right.length;
  const cost = new Float64Array(rows * columns).fill(Number.POSITIVE_INFINITY);
  const square = (i: number, j: number): number => {
    const d = distanceM(left[i]!, right[j]!);
    return d * d;
  };
  cost[0] = square(0, 0);
  for (let i = 0; i < rows; i += 1) {
    for (let j = 0; j < columns; j += 1) {
      if (i === 0 && j === 0) continue;
      const diagonal = i > 0 && j > 0 ? cost[(i - 1) * columns + j - 1]! : Number.POSITIVE_INFINITY;
      const up = i > 0 ? cost[(i - 1) * columns + j]! : Number.POSITIVE_INFINITY;
      const back = j > 0 ? cost[i * columns + j - 1]! : Number.POSITIVE_INFINITY;
      cost[i * columns + j] = square(i, j) + Math.min(diagonal, up, back);
    }
  }
  const middles: Rung[] = [];
  let i = rows - 1;
  let j = columns - 1;
  for (;;) {
    const a = left[i]!;
    const b = right[j]!;
    middles.push({ at: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, halfM: distanceM(a, b) / 2 });
    if (i === 0 && j === 0) break;
    const diagonal = i > 0 && j > 0 ? cost[(i - 1) * columns + j - 1]! : Number.POSITIVE_INFINITY;
    const up = i > 0 ? cost[(i - 1) * columns + j]! : Number.POSITIVE_INFINITY;
    const back = j > 0 ? cost[i * columns + j - 1]! : Number.POSITIVE_INFINITY;
    if (diagonal <= up && diagonal <= back) {
      i -= 1;
      j -= 1;
    } else if (up <= back) i -= 1;
    else j -= 1;
  }
  return middles.reverse();
}

/** Straight stretches through noisy middles: split where they bend, fit a line to each, meet the lines. */
function fitStretches(middles: readonly PlanPoint[]): PlanPoint[] {
  if (middles.length < 4) return [...middles];
  const corners = simplifyPath(middles, STRAIGHTEN_M);
  const lines: { at: PlanPoint; heading: PlanPoint }[] = [];
  for (let k = 1; k < corners.length; k += 1) {
    const from = middles.indexOf(nearestOf(middles, corners[k - 1]!));
    const to = middles.indexOf(nearestOf(middles, corners[k]!));
    lines.push(fitLine(middles.slice(from, to + 1)));
  }
  if (lines.length === 0) return [...middles];
  const path: PlanPoint[] = [footOn(lines[0]!, middles[0]!)];
  for (let k = 1; k < lines.length; k += 1) path.push(meet(lines[k - 1]!, lines[k]!, corners[k]!));
  path.push(footOn(lines.at(-1)!, middles.at(-1)!));
  return path;
}

function nearestOf(points: readonly PlanPoint[], to: PlanPoint): PlanPoint {
  let best = points[0]!;
  for (const point of points) if (distanceM(point, to) < distanceM(best, to)) best = point;
  return best;
}

/** Least-squares line through points (principal axis), pointing from the first to the last. */
function fitLine(points: readonly PlanPoint[]): { at: PlanPoint; heading: PlanPoint } {
  const inner = points.length > 8 ? points.slice(2, -2) : points;
  const x = inner.reduce((sum, p) => sum + p.x, 0) / inner.length;
  const y = inner.reduce((sum, p) => sum + p.y, 0) / inner.length;
  let xx = 0;
  let yy = 0;
  let xy = 0;
  for (const p of inner) {
    xx += (p.x - x) ** 2;
    yy += (p.y - y) ** 2;
    xy += (p.x - x) * (p.y - y);
  }
  const angle = headingOf(2 * xy, xx - yy) / 2;
  const first = points[0]!;
  const last = points.at(-1)!;
  const way = (last.x - first.x) * cosOf(angle) + (last.y - first.y) * sinOf(angle) < 0 ? -1 : 1;
  return { at: { x, y }, heading: { x: way * cosOf(angle), y: way * sinOf(angle) } };
}

function footOn(line: { at: PlanPoint; heading: PlanPoint }, point: PlanPoint): PlanPoint {
  const along = (point.x - line.at.x) * line.heading.x + (point.y - line.at.y) * line.heading.y;
  return { x: line.at.x + line.heading.x * along, y: line.at.y + line.heading.y * along };
}

/** Where two fitted lines meet; near-parallel lines, or a meeting point far off, keep the corner as sampled. */
function meet(
  one: { at: PlanPoint; heading: PlanPoint },
  other: { at: PlanPoint; heading: PlanPoint },
  sampled: PlanPoint,
): PlanPoint {
  const cross = one.heading.x * other.heading.y - one.heading.y * other.heading.x;
  if (Math.abs(cross) < 0.02) return footOn(one, sampled);
  const dx = other.at.x - one.at.x;
  const dy = other.at.y - one.at.y;
  const along = (dx * other.heading.y - dy * other.heading.x) / cross;
  const at = { x: one.at.x + one.heading.x * along, y: one.at.y + one.heading.y * along };
  return distanceM(at, sampled) < 0.15 ? at : sampled;
}

/** Carries both ends straight on to the edge of the ground, or back to it. */
function reachEnds(path: readonly PlanPoint[], ground: Polygon): PlanPoint[] | null {
  if (path.length < 2) return null;
  const start = reachEnd(path[1]!, path[0]!, ground);
  const end = reachEnd(path.at(-2)!, path.at(-1)!, ground);
  return [start, ...path.slice(1, -1), end];
}

function reachEnd(from: PlanPoint, end: PlanPoint, ground: Polygon): PlanPoint {
  const lengthM = distanceM(from, end);
  if (lengthM < 1e-6 || !pointInPolygon(from, ground)) return end;
  const farM = lengthM + 2;
  const far = {
    x: from.x + ((end.x - from.x) * farM) / lengthM,
    y: from.y + ((end.y - from.y) * farM) / lengthM,
  };
  let best: PlanPoint | null = null;
  const { outer } = ground;
  outer.forEach((a, i) => {
    const at = segmentCrossing(from, far, a, outer[(i + 1) % outer.length]!);
    if (at && (!best || distanceM(from, at) < distanceM(from, best))) best = at;
  });
  return best ?? end;
}
