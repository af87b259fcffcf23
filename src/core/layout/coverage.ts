import {
  type MultiPolygon,
  type Polyline,
  ringsOf,
  SegmentIndex,
  sampleGround,
  samplePoint,
  squaredDistances,
} from '../geometry';
import type { Coverage } from './types';

/** Ground counts as watered within this share of the row spacing from tubing: half a row and a little for the hand. */
export const COVERED_RATIO = 0.55;

/** Distances come from the grid up to this many row spacings; points further away are measured one at a time. */
const NEAR_ROWS = 0.75;

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
  const square = squaredDistances(samples, wet, rowSpacingM * NEAR_ROWS);
  const limit = (COVERED_RATIO * rowSpacingM) ** 2;
  let covered = 0;
  let worst = 0;
  let index: SegmentIndex | null = null;
  const gaps = new Map<string, { x: number; y: number; distanceM: number }>();
  for (let i = 0; i < square.length; i += 1) {
    if (samples.isGround[i] === 0) continue;
    let here = square[i]!;
    if (here > limit) {
      const point = samplePoint(samples, i);
      if (here === Number.POSITIVE_INFINITY) {
        index ??= SegmentIndex.ofPaths(wet);
        here = (index.nearest(point)?.distanceM ?? Number.POSITIVE_INFINITY) ** 2;
      }
      noteGap(gaps, { ...point, distanceM: Math.sqrt(here) }, rowSpacingM);
    } else covered += 1;
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
