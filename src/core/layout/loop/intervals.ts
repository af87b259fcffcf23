import type { Region } from '../../geometry';

/** A stretch of a level line, from its left to its right end, metres. */
export type Interval = readonly [number, number];

/** Where the horizontal line at `y` lies on the region's ground, left to right. */
export function cutAt(region: Region, y: number): Interval[] {
  const crossings: number[] = [];
  for (const ring of region)
    for (let index = 0, before = ring.length - 1; index < ring.length; before = index++) {
      const a = ring[index]!;
      const b = ring[before]!;
      if (a.y > y !== b.y > y) crossings.push(((b.x - a.x) * (y - a.y)) / (b.y - a.y) + a.x);
    }
  crossings.sort((one, other) => one - other);
  const intervals: Interval[] = [];
  for (let index = 0; index + 1 < crossings.length; index += 2)
    intervals.push([crossings[index]!, crossings[index + 1]!]);
  return intervals;
}

/** What two ascending lists of intervals have in common. */
export function commonIntervals(some: readonly Interval[], others: readonly Interval[]): Interval[] {
  const common: Interval[] = [];
  let one = 0;
  let other = 0;
  while (one < some.length && other < others.length) {
    const left = Math.max(some[one]![0], others[other]![0]);
    const right = Math.min(some[one]![1], others[other]![1]);
    if (right > left) common.push([left, right]);
    if (some[one]![1] < others[other]![1]) one++;
    else other++;
  }
  return common;
}

/** The longest of some intervals, metres; 0 where there are none. */
export function longestM(intervals: readonly Interval[]): number {
  return intervals.reduce((longest, [from, to]) => Math.max(longest, to - from), 0);
}
