import { distanceToSegmentM } from './distance';
import type { PlanPoint, Polyline, Ring } from './types';
import { distanceM } from './vector';

/**
 * A chain with points dropped that stray less than `toleranceM` from the line of their neighbours (Douglas and Peucker,
 * 1973). Ends stay. Our own loop rather than a package's: theirs leave short chains as they are, or recurse deep.
 */
export function simplifyPath(path: Polyline, toleranceM: number): PlanPoint[] {
  if (path.length < 3) return [...path];
  const kept = new Uint8Array(path.length);
  kept[0] = 1;
  kept[path.length - 1] = 1;
  const spans: [number, number][] = [[0, path.length - 1]];
  for (let span = spans.pop(); span; span = spans.pop()) {
    const [first, last] = span;
    let furthest = -1;
    let furthestM = toleranceM;
    for (let index = first + 1; index < last; index++) {
      const strayM = distanceToSegmentM(path[index]!, path[first]!, path[last]!);
      if (strayM > furthestM) {
        furthest = index;
        furthestM = strayM;
      }
    }
    if (furthest < 0) continue;
    kept[furthest] = 1;
    spans.push([first, furthest], [furthest, last]);
  }
  return path.filter((_, index) => kept[index] === 1);
}

/** A ring simplified the same way, split at its first point and the one furthest from it; where it begins is kept only where it bends there. */
export function simplifyRing(ring: Ring, toleranceM: number): PlanPoint[] {
  const first = ring[0];
  if (!first || ring.length < 4) return [...ring];
  let furthest = 0;
  for (let index = 1; index < ring.length; index++)
    if (distanceM(first, ring[index]!) > distanceM(first, ring[furthest]!)) furthest = index;
  const there = simplifyPath(ring.slice(0, furthest + 1), toleranceM);
  const back = simplifyPath([...ring.slice(furthest), first], toleranceM);
  const kept = [...there.slice(0, -1), ...back.slice(0, -1)];
  const isStraight = kept.length > 3 && distanceToSegmentM(first, kept.at(-1)!, kept[1]!) <= toleranceM;
  return isStraight ? kept.slice(1) : kept;
}
