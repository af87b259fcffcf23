import { type MultiPolygon, type Polyline, ringsOf } from '../geometry';
import { distancesSquared, sampleGround } from './groundSamples';
import type { Coverage } from './types';

/** Ground counts as watered within this share of the row spacing from tubing: half a row and a little for the hand. */
export const COVERED_RATIO = 0.55;

/** Distances are exact up to this many row spacings; further ground is searched for one point at a time. */
const NEAR_ROWS = 1.2;

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
  const samples = sampleGround(ringsOf(ground), rowSpacingM / 12, mostSamples);
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
