import { boxOfAll, type MultiPolygon, type PlanPoint, type Polyline, ringsOf } from '../geometry';
import type { Coverage } from './types';

/** Ground counts as watered within this share of the row spacing from tubing: half a row and a little for the hand. */
export const COVERED_RATIO = 0.55;

/** Distances are exact up to this many row spacings; further ground is searched for one point at a time. */
const NEAR_ROWS = 1.2;

/** Sample points over ground: rows of points `stepM` apart, those inside a polygon only. */
interface Samples {
  readonly x0: number;
  readonly y0: number;
  readonly stepM: number;
  readonly columns: number;
  readonly rows: number;
  /** 1 where the sample lies on the ground. */
  readonly isGround: Uint8Array;
  readonly count: number;
}

/**
 * How well tubing covers ground: the share of it within 0.55 of the row spacing, the widest distance left, and where.
 * Sampled on a square grid of a twelfth of the row spacing (coarser on ground of more than `mostSamples` points).
 *
 * @param wet  paths of tubing with emitters; plain pieces water nothing
 * @returns    `coveredRatio` 1 and no gap where there is no ground to cover
 */
export function measureCoverage(
  ground: MultiPolygon,
  wet: readonly Polyline[],
  rowSpacingM: number,
  mostSamples = 60_000,
): Omit<Coverage, 'worstPhaseOverlapRatio'> {
  const samples = sampleGround(ground, rowSpacingM, mostSamples);
  if (samples.count === 0) return { coveredRatio: 1, maxGapM: 0, gaps: [] };
  const square = distancesSquared(samples, wet, rowSpacingM * NEAR_ROWS);
  const limit = (COVERED_RATIO * rowSpacingM) ** 2;
  let covered = 0;
  let worst = 0;
  const gaps = new Map<string, { x: number; y: number; distanceM: number }>();
  for (let i = 0; i < square.length; i += 1) {
    if (samples.isGround[i] === 0) continue;
    const x = samples.x0 + (i % samples.columns) * samples.stepM;
    const y = samples.y0 + Math.floor(i / samples.columns) * samples.stepM;
    const here = square[i]! < Number.POSITIVE_INFINITY ? square[i]! : farSquared(x, y, wet);
    if (here <= limit) covered += 1;
    else noteGap(gaps, { x, y, distanceM: Math.sqrt(here) }, rowSpacingM);
    if (here > worst) worst = here;
  }
  return {
    coveredRatio: covered / samples.count,
    maxGapM: Number.isFinite(worst) ? Math.sqrt(worst) : rowSpacingM * 100,
    gaps: [...gaps.values()].sort(
      (one, other) => other.distanceM - one.distanceM || one.x - other.x || one.y - other.y,
    ),
  };
}

/** One spot a square of the row spacing: the worst of it. */
function noteGap(
  gaps: Map<string, { x: number; y: number; distanceM: number }>,
  spot: { x: number; y: number; distanceM: number },
  rowSpacingM: number,
): void {
  const key = `${Math.floor(spot.x / rowSpacingM)} ${Math.floor(spot.y / rowSpacingM)}`;
  const known = gaps.get(key);
  if (!known || spot.distanceM > known.distanceM) gaps.set(key, spot);
}

function sampleGround(ground: MultiPolygon, rowSpacingM: number, mostSamples: number): Samples {
  const rings = ringsOf(ground);
  const box = boxOfAll(rings);
  if (!box) return { x0: 0, y0: 0, stepM: 1, columns: 0, rows: 0, isGround: new Uint8Array(0), count: 0 };
  const boxM2 = (box.maxX - box.minX) * (box.maxY - box.minY);
  const stepM = Math.max(rowSpacingM / 12, Math.sqrt(boxM2 / mostSamples));
  const columns = Math.max(1, Math.ceil((box.maxX - box.minX) / stepM));
  const rows = Math.max(1, Math.ceil((box.maxY - box.minY) / stepM));
  const x0 = box.minX + (box.maxX - box.minX - (columns - 1) * stepM) / 2;
  const y0 = box.minY + (box.maxY - box.minY - (rows - 1) * stepM) / 2;
  const crossings: number[][] = Array.from({ length: rows }, () => []);
  for (const ring of rings) {
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      const from = Math.max(0, Math.ceil((Math.min(a.y, b.y) - y0) / stepM));
      const to = Math.min(rows - 1, Math.floor((Math.max(a.y, b.y) - y0) / stepM));
      for (let row = from; row <= to; row += 1) {
        const y = y0 + row * stepM;
        if (a.y > y !== b.y > y) crossings[row]!.push(a.x + ((b.x - a.x) * (y - a.y)) / (b.y - a.y));
      }
    });
  }
  const isGround = new Uint8Array(columns * rows);
  let count = 0;
  crossings.forEach((xs, row) => {
    xs.sort((one, other) => one - other);
    for (let k = 0; k + 1 < xs.length; k += 2) {
      const first = Math.max(0, Math.ceil((xs[k]! - x0) / stepM));
      const last = Math.min(columns - 1, Math.floor((xs[k + 1]! - x0) / stepM));
      for (let column = first; column <= last; column += 1) {
        isGround[row * columns + column] = 1;
        count += 1;
      }
    }
  });
  return { x0, y0, stepM, columns, rows, isGround, count };
}

/** Squared distance of every sample to the nearest tubing within `reachM`; infinite beyond. */
function distancesSquared(samples: Samples, wet: readonly Polyline[], reachM: number): Float64Array {
  const square = new Float64Array(samples.columns * samples.rows).fill(Number.POSITIVE_INFINITY);
  for (const path of wet) {
    for (let i = 1; i < path.length; i += 1) {
      const a = path[i - 1]!;
      const b = path[i]!;
      const count = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / (2 * reachM)));
      for (let k = 0; k < count; k += 1)
        stamp(samples, square, between(a, b, k / count), between(a, b, (k + 1) / count), reachM);
    }
  }
  return square;
}

const between = (a: PlanPoint, b: PlanPoint, ratio: number): PlanPoint => ({
  x: a.x + (b.x - a.x) * ratio,
  y: a.y + (b.y - a.y) * ratio,
});

function stamp(samples: Samples, square: Float64Array, a: PlanPoint, b: PlanPoint, reachM: number): void {
  const { x0, y0, stepM, columns, rows, isGround } = samples;
  const vx = b.x - a.x;
  const vy = b.y - a.y;
  const length2 = vx * vx + vy * vy;
  const reach2 = reachM * reachM;
  const firstColumn = Math.max(0, Math.ceil((Math.min(a.x, b.x) - reachM - x0) / stepM));
  const lastColumn = Math.min(columns - 1, Math.floor((Math.max(a.x, b.x) + reachM - x0) / stepM));
  const firstRow = Math.max(0, Math.ceil((Math.min(a.y, b.y) - reachM - y0) / stepM));
  const lastRow = Math.min(rows - 1, Math.floor((Math.max(a.y, b.y) + reachM - y0) / stepM));
  for (let row = firstRow; row <= lastRow; row += 1) {
    const wy = y0 + row * stepM - a.y;
    for (let column = firstColumn; column <= lastColumn; column += 1) {
      const cell = row * columns + column;
      if (isGround[cell] === 0) continue;
      const wx = x0 + column * stepM - a.x;
      let ratio = length2 > 0 ? (wx * vx + wy * vy) / length2 : 0;
      ratio = Math.min(1, Math.max(0, ratio));
      const dx = wx - ratio * vx;
      const dy = wy - ratio * vy;
      const here = dx * dx + dy * dy;
      if (here <= reach2 && here < square[cell]!) square[cell] = here;
    }
  }
}

function farSquared(x: number, y: number, wet: readonly Polyline[]): number {
  let best = Number.POSITIVE_INFINITY;
  for (const path of wet) {
    for (let i = 1; i < path.length; i += 1) {
      const a = path[i - 1]!;
      const b = path[i]!;
      const vx = b.x - a.x;
      const vy = b.y - a.y;
      const length2 = vx * vx + vy * vy;
      const raw = length2 > 0 ? ((x - a.x) * vx + (y - a.y) * vy) / length2 : 0;
      const ratio = Math.min(1, Math.max(0, raw));
      const here = (x - a.x - ratio * vx) ** 2 + (y - a.y - ratio * vy) ** 2;
      if (here < best) best = here;
    }
  }
  return best;
}
