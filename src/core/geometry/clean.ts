import { nestRings, subtractRings, uniteRings } from './clip';
import { polygonAreaM2 } from './polygon';
import { quantisePoints } from './quantise';
import { DIRT_AREA_M2, SAME_POINT_M } from './tolerance';
import type { MultiPolygon, Polygon, Ring } from './types';
import { distanceM } from './vector';

/** What a drawn outline became, and what had to be mended on the way. */
export interface CleanOutline {
  /** Sound parts with holes, largest first; ties by place. */
  readonly parts: MultiPolygon;
  readonly repeatedPoints: number;
  /** Indexes of hole rings (1 is the first hole) with no ground in common with the outline. */
  readonly holesOutside: readonly number[];
  /** The outline crosses itself and fell into more than one part. */
  readonly isSplit: boolean;
}

/**
 * Sound parts of a drawn outline: repeated points dropped, crossings resolved by even-odd (a bow-tie is two parts),
 * spikes and slivers of no area gone, holes taken off wherever they lie, outer rings anticlockwise and holes clockwise.
 *
 * @param rings outer ring first, then holes; any orientation, dirty input allowed
 */
export function cleanOutline(rings: readonly Ring[]): CleanOutline {
  const tidy = rings.map(dropRepeats);
  const repeatedPoints = rings.reduce((count, ring, index) => count + ring.length - tidy[index]!.length, 0);
  const outer = uniteRings(tidy.slice(0, 1), 'even-odd');
  const holesOutside: number[] = [];
  const holes: Ring[] = [];
  tidy.slice(1).forEach((ring, index) => {
    const hole = uniteRings([ring], 'even-odd');
    if (hole.length === 0) return;
    const outside = subtractRings(hole, outer);
    if (groundM2(outside) > groundM2(hole) - DIRT_AREA_M2) holesOutside.push(index + 1);
    else holes.push(...hole);
  });
  const ground = nestRings(holes.length > 0 ? subtractRings(outer, uniteRings(holes)) : outer);
  const parts = ground.map(dropDirt).filter((part) => polygonAreaM2(part) > DIRT_AREA_M2);
  return {
    parts: [...parts].sort(byAreaThenPlace),
    repeatedPoints,
    holesOutside,
    isSplit: parts.length > 1,
  };
}

function dropRepeats(ring: Ring): Ring {
  const points = quantisePoints(ring);
  while (points.length > 1 && distanceM(points[0]!, points.at(-1)!) < SAME_POINT_M) points.pop();
  return points;
}

function dropDirt(part: Polygon): Polygon {
  return {
    outer: part.outer,
    holes: part.holes.filter((hole) => polygonAreaM2({ outer: hole, holes: [] }) > DIRT_AREA_M2),
  };
}

const groundM2 = (region: readonly Ring[]): number =>
  nestRings(region).reduce((areaM2, part) => areaM2 + polygonAreaM2(part), 0);

function byAreaThenPlace(one: Polygon, other: Polygon): number {
  const first = one.outer[0]!;
  const second = other.outer[0]!;
  return polygonAreaM2(other) - polygonAreaM2(one) || first.x - second.x || first.y - second.y;
}
