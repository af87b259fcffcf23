import {
  type Box,
  boxOfAll,
  boxRing,
  inflateRings,
  intersectRings,
  nestRings,
  type PlanPoint,
  type Region,
  ringAreaM2,
  subtractRings,
  uniteRings,
} from '../../geometry';
import { commonIntervals, cutAt, type Interval, longestM } from './intervals';
import type { Comb, Gap, Tooth } from './teeth';

/** Width of the return line's strip, in row spacings: three quarters leaves no ground between it and the row ends dry. */
const RETURN_LINE_RATIO = 0.75;
/** Ground nearer to the boundary than this many least separations holds no run of another row: bent corners take a little. */
const THIN_RATIO = 1.06;
/** Bridges are widened by this to weld them to the teeth they touch along a line, metres. */
export const WELD_M = 0.008;
/** What thinning of points may take from the distance of two runs, metres. */
const SPARE_M = 0.001;
/** Height above and below a level at which cuts are taken, metres: clear of the level's own rounding. */
const NEAR_LEVEL_M = 0.004;

export type Side = 'left' | 'right';

/** A piece of a gap that would join the tooth below it to the tooth above it. */
export interface Bridge {
  readonly lower: number;
  readonly upper: number;
  readonly band: number;
  readonly region: Region;
  /** Lower is better: wrong side, an obstacle's end instead of the outline's, slant, a slot instead of the gap's end. */
  readonly cost: number;
  readonly at: PlanPoint;
}

type End = Side | 'whole';

/** A bridge before it is weighed for the side that bridges are wanted on. */
export interface Crossing extends Omit<Bridge, 'cost'> {
  /** The end of the gap it lies at, or all of a short gap. */
  readonly end: End;
  /** A plain slot across the gap, which follows no boundary. */
  readonly isSlot: boolean;
  /** Does that end of the gap lie at the ground's own edge, not at an obstacle? */
  readonly isAtOutline: boolean;
  /** How far the boundary there runs aside for each metre across the gap. */
  readonly slant: number;
}

/** What bridges are drawn by. */
export interface CrossingWishes {
  readonly spacingM: number;
  readonly minSeparationM: number;
}

/** Strips of the gaps beside the boundary, by band: what a return line takes, and what is too near for a run of another row. */
interface Strips {
  readonly strips: ReadonlyMap<number, readonly Strip[]>;
  readonly thin: ReadonlyMap<number, readonly Strip[]>;
}

function stripsOf(comb: Comb, wishes: CrossingWishes): Strips {
  const returnM = returnLineM(wishes);
  const gapGround = comb.gaps.flatMap((gap) => gap.region);
  const stripsWithin = (reachM: number): ReadonlyMap<number, Strip[]> => {
    const margins = subtractRings(comb.ground, inflateRings(comb.ground, -reachM));
    const strips = nestRings(intersectRings(gapGround, margins)).map((part) => {
      const region = [part.outer, ...part.holes];
      return { region, box: boxOfAll(region)! };
    });
    return groupBy(strips, (strip) => bandOfStrip(strip.box, comb));
  };
  return {
    strips: stripsWithin(returnM),
    thin: stripsWithin(Math.min(returnM, THIN_RATIO * wishes.minSeparationM)),
  };
}

/** Bridges found, weighed for the side they are wanted on: cheapest first, ties by place. */
export function bridgesOnSide(crossings: readonly Crossing[], side: Side): Bridge[] {
  return crossings
    .map(({ end, isSlot, isAtOutline, slant, ...bridge }) => ({
      ...bridge,
      cost:
        (end === 'whole' ? 0.2 : end === side ? 0 : 1) +
        (isSlot ? 1.7 : 0) +
        (isAtOutline ? 0 : 1.4) +
        0.5 * Math.min(2, slant),
    }))
    .sort((one, other) => one.cost - other.cost || one.at.y - other.at.y || one.at.x - other.at.x);
}

/** Every bridge worth trying; the same whichever side they are wanted on. */
export function crossingsOf(comb: Comb, wishes: CrossingWishes): Crossing[] {
  const strips = stripsOf(comb, wishes);
  const teethByBand = groupBy(comb.teeth, (tooth) => tooth.band);
  return comb.gaps.flatMap((gap) => {
    const middleY = (comb.levels[gap.band]! + comb.levels[gap.band + 1]!) / 2;
    const outer = cutAt(comb.ground, middleY);
    const ends = { strips: strips.strips.get(gap.band) ?? [], thin: strips.thin.get(gap.band) ?? [] };
    const below = teethByBand.get(gap.band - 1) ?? [];
    const above = teethByBand.get(gap.band + 1) ?? [];
    const beside = [...below, ...above];
    return below.flatMap((lower) =>
      above.flatMap((upper) => crossingsBetween({ comb, gap, lower, upper, beside, outer, wishes }, ends)),
    );
  });
}

const returnLineM = ({ spacingM, minSeparationM }: CrossingWishes): number =>
  Math.max(RETURN_LINE_RATIO * spacingM, minSeparationM);

/** A part of a gap beside the boundary. */
interface Strip {
  readonly region: Region;
  readonly box: Box;
}

function bandOfStrip(box: Box, comb: Comb): number {
  const middle = (box.minY + box.maxY) / 2;
  return comb.levels.findLastIndex((level) => level <= middle);
}

function groupBy<T>(items: readonly T[], keyOf: (item: T) => number): Map<number, T[]> {
  const groups = new Map<number, T[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group) group.push(item);
    else groups.set(key, [item]);
  }
  return groups;
}

/** Two teeth with the gap between them, and what lies about. */
interface Pair {
  readonly comb: Comb;
  readonly gap: Gap;
  readonly lower: Tooth;
  readonly upper: Tooth;
  /** All teeth of the bands below and above. */
  readonly beside: readonly Tooth[];
  readonly outer: readonly Interval[];
  readonly wishes: CrossingWishes;
}

/** Ground of a gap beside the boundary: what a return line takes, and what is too near for a run of another row. */
interface GapEnds {
  readonly strips: readonly Strip[];
  readonly thin: readonly Strip[];
}

function crossingsBetween(pair: Pair, gapEnds: GapEnds): Crossing[] {
  const { comb, gap, lower, upper, wishes } = pair;
  if (lower.box.maxX < gap.box.minX || lower.box.minX > gap.box.maxX) return [];
  if (upper.box.maxX < gap.box.minX || upper.box.minX > gap.box.maxX) return [];
  const lowY = comb.levels[gap.band]!;
  const highY = comb.levels[gap.band + 1]!;
  const heightM = highY - lowY;
  const heights = [
    lowY + NEAR_LEVEL_M,
    lowY + heightM / 4,
    lowY + heightM / 2,
    highY - heightM / 4,
    highY - NEAR_LEVEL_M,
  ];
  const cuts = heights.map((y) => cutAt(gap.region, y));
  const open = commonIntervals(commonIntervals(cuts[0]!, cuts[2]!), cuts[4]!);
  const shared = commonIntervals(
    commonIntervals(open, cutAt([lower.outer], lowY - NEAR_LEVEL_M)),
    cutAt([upper.outer], highY + NEAR_LEVEL_M),
  );
  return shared.flatMap((corridor) => {
    const [from, to] = corridor;
    const widthM = to - from;
    if (widthM < 0.9 * wishes.minSeparationM) return [];
    const ends: End[] = widthM < 1.2 * heightM ? ['whole'] : ['left', 'right'];
    const place = { ...pair, lowY, highY, heights, cuts, corridor };
    const hugging = ends.flatMap((end) => hugEnd(place, end, gapEnds));
    const slots = widthM > 1.8 * heightM ? (['left', 'right'] as const).map((end) => slotAt(place, end)) : [];
    return [...hugging, ...slots];
  });
}

interface Place extends Pair {
  readonly lowY: number;
  readonly highY: number;
  readonly heights: readonly number[];
  readonly cuts: readonly (readonly Interval[])[];
  readonly corridor: Interval;
}

/** A bridge that follows the boundary at an end of the gap, or takes a short gap whole. */
function hugEnd(place: Place, end: End, gapEnds: GapEnds): Crossing[] {
  const { gap, lowY, highY, corridor, wishes } = place;
  const heightM = highY - lowY;
  const middleX = (corridor[0] + corridor[1]) / 2;
  const reach = place.heights.flatMap((_, index) =>
    place.cuts[index]!.filter(([from, to]) => from <= middleX && to >= middleX),
  );
  const leftX = Math.min(...reach.map(([from]) => from), corridor[0]);
  const rightX = Math.max(...reach.map(([, to]) => to), corridor[1]);
  const ends = reach.map(([from, to]) => (end === 'right' ? to : from));
  const slant = ends.length > 0 ? (Math.max(...ends) - Math.min(...ends)) / heightM : 0;
  const limits = {
    minX: (end === 'right' ? corridor[1] - 1.5 * heightM : leftX) - 0.01,
    maxX: (end === 'left' ? corridor[0] + 1.5 * heightM : rightX) + 0.01,
    minY: lowY - 0.01,
    maxY: highY + 0.01,
  };
  const source = end === 'whole' ? gap.region : stripAtEnd(place, end, gapEnds.strips);
  if (!source) return [];
  const held = intersectRings(source, [boxRing(limits)]);
  const filled = end === 'whole' ? held : withThin(held, end, middleX, gapEnds.thin);
  const region = clearOfOthers(filled, place);
  const contactM = Math.min(
    longestM(cutAt(region, lowY + NEAR_LEVEL_M)),
    longestM(cutAt(region, highY - NEAR_LEVEL_M)),
  );
  if (contactM < 0.9 * wishes.minSeparationM) return [];
  const endX = end === 'right' ? rightX : leftX;
  return [crossingOf(place, region, end, slant, endX, false)];
}

/** A bridge's ground with what lies on beyond its end between a row and the boundary, too thin for another run, up to the gap's middle. */
function withThin(region: Region, end: Side, middleX: number, thin: readonly Strip[]): Region {
  const box = boxOfAll(region);
  if (!box) return region;
  const more = thin.flatMap((strip) => {
    if (!boxesTouch(strip.box, box, 0)) return [];
    const half = { ...strip.box, [end === 'left' ? 'maxX' : 'minX']: middleX };
    if (half.minX >= half.maxX) return [];
    const side = intersectRings(strip.region, [boxRing(half)]);
    return intersectRings(side, region).length > 0 ? side : [];
  });
  return more.length > 0 ? largestPart(uniteRings([...region, ...more])) : region;
}

/**
 * A bridge's ground less what would touch a third tooth: round an obstacle's end the strip goes on to the next one, and three
 * teeth in one bridge close the gap between them in.
 */
function clearOfOthers(region: Region, { lower, upper, beside, wishes }: Place): Region {
  const box = boxOfAll(region);
  if (!box) return region;
  const others = beside.filter(
    (tooth) => tooth !== lower && tooth !== upper && boxesTouch(tooth.box, box, wishes.minSeparationM),
  );
  if (others.length === 0) return region;
  const apart = inflateRings(
    others.map((tooth) => tooth.outer),
    wishes.minSeparationM + WELD_M + SPARE_M,
  );
  const left = subtractRings(region, apart);
  return left.length < 2 ? left : largestPart(left);
}

const boxesTouch = (one: Box, other: Box, byM: number): boolean =>
  one.minX - byM < other.maxX &&
  one.maxX + byM > other.minX &&
  one.minY - byM < other.maxY &&
  one.maxY + byM > other.minY;

function largestPart(region: Region): Region {
  const parts = nestRings(region).sort((one, other) => ringAreaM2(other.outer) - ringAreaM2(one.outer));
  return parts[0] ? [parts[0].outer, ...parts[0].holes] : [];
}

function stripAtEnd(place: Place, end: Side, strips: readonly Strip[]): Region | null {
  const [from, to] = place.corridor;
  const middleX = (from + to) / 2;
  for (const index of [2, 1, 3]) {
    const y = place.heights[index]!;
    const reach = place.cuts[index]!.find((interval) => interval[0] <= middleX && interval[1] >= middleX);
    if (!reach) continue;
    const x = end === 'left' ? reach[0] + 2 * NEAR_LEVEL_M : reach[1] - 2 * NEAR_LEVEL_M;
    const strip = strips.find(
      ({ region, box }) =>
        box.minX <= x && box.maxX >= x && cutAt(region, y).some(([left, right]) => left <= x && right >= x),
    );
    if (strip) return strip.region;
  }
  return null;
}

/** A plain rectangle across the gap near one of its ends. */
function slotAt(place: Place, end: Side): Crossing {
  const { corridor, lowY, highY, wishes } = place;
  const widthM = Math.max(0.8 * (highY - lowY), wishes.minSeparationM);
  const minX = end === 'left' ? corridor[0] : corridor[1] - widthM;
  const region = [boxRing({ minX, maxX: minX + widthM, minY: lowY, maxY: highY })];
  return crossingOf(place, region, end, 0, end === 'left' ? minX : minX + widthM, true);
}

function crossingOf(
  place: Place,
  region: Region,
  end: End,
  slant: number,
  endX: number,
  isSlot: boolean,
): Crossing {
  const { gap, lower, upper, outer, wishes, corridor, lowY, highY } = place;
  const first = outer[0]?.[0] ?? endX;
  const last = outer.at(-1)?.[1] ?? endX;
  const reachM = 1.5 * wishes.spacingM;
  const isAtOutline =
    end === 'whole' || (end === 'left' ? Math.abs(first - endX) < reachM : Math.abs(last - endX) < reachM);
  const at = { x: end === 'right' ? corridor[1] : corridor[0], y: (lowY + highY) / 2 };
  return {
    lower: lower.index,
    upper: upper.index,
    band: gap.band,
    region,
    at,
    end,
    isSlot,
    isAtOutline,
    slant,
  };
}
