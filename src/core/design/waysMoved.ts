import { distancesAlongM, type PlanPoint, type Polyline, pointsAlong, SegmentIndex } from '../geometry';

/** Tubing nearer than this to the other way's is the same tubing: what a crew may shift round plants without asking is 6 in, a third of that is laying. */
export const SAME_TUBING_M = 0.05;
const LOOK_EVERY_M = 0.1;

/**
 * The stretches of a path that lie further than 50 mm from any of some other paths, and their length together; looked at
 * every 100 mm.
 */
export function stretchesAway(
  path: Polyline,
  others: readonly Polyline[],
): { readonly paths: readonly (readonly PlanPoint[])[]; readonly lengthM: number } {
  if (path.length < 2) return { paths: [], lengthM: 0 };
  const index = SegmentIndex.ofPaths(others);
  const lengthM = distancesAlongM(path).at(-1)!;
  const count = Math.max(1, Math.ceil(lengthM / LOOK_EVERY_M));
  const points = pointsAlong(
    path,
    Array.from({ length: count + 1 }, (_, k) => (lengthM * k) / count),
  ).map((found) => found.at);
  const isAway = points.map((p) => index.nearest(p, SAME_TUBING_M) === null);
  const paths: PlanPoint[][] = [];
  let steps = 0;
  for (let k = 0; k < count; k++) {
    if (!isAway[k] || !isAway[k + 1]) continue;
    steps++;
    const open = paths.at(-1);
    if (k > 0 && isAway[k - 1] && open) open.push(points[k + 1]!);
    else paths.push([points[k]!, points[k + 1]!]);
  }
  return { paths, lengthM: (lengthM * steps) / count };
}
