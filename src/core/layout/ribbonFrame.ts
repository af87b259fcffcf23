import {
  closeRing,
  distanceToSegmentM,
  type PlanPoint,
  type Polygon,
  type Polyline,
  polylineLengthM,
  type Ring,
  ringAreaM2,
  turnRad,
} from '../geometry';
import { type BentFrame, bentFrame } from './bentFrame';
import { centrelineOf } from './centreline';
import { runningMeans } from './runningMeans';

/** Ground is a ribbon from this many times as long as wide; shorter ground has no line to follow. */
const LEAST_SLENDER_RATIO = 3;
/** A ribbon that bends less in all, to one side or the other, and strays from straight by less than this many row spacings, is laid straight as well. */
const LEAST_BEND_RAD = 0.2;
const LEAST_STRAY_ROWS = 0.5;
/** Widths are taken this far apart, metres, and no nearer to an end than this share of the mean width. */
const STEP_M = 0.15;
const END_SHARE = 0.6;
/** Where a ribbon is widest its rows may lie this much further apart than asked: ground between is still within their reach. */
const WIDEST_RATIO = 1.05;
/** Ground each row waters across where it is widest, in row spacings: the outer rows lie as far off the sides as that allows. */
const WATERED_RATIO = 1.08;
/** Beyond where widths are taken the sides go on as they went over so many steps, for so many at most. */
const ENDING_STEPS = 4;
const MOST_STEPS_BEYOND = 8;

/** A frame along a ribbon in which its sides lie straight and its rows one row spacing apart. */
export interface RibbonFrame {
  /** Where the outer rows lie, an odd number of row spacings apart: a closed loop has an even number of rows. */
  readonly lowestY: number;
  readonly highestY: number;
  toFrame(point: PlanPoint): PlanPoint;
  toPlan(point: PlanPoint): PlanPoint;
  /** Length on the ground for each metre of the frame at a place of it, the lesser of along and across. */
  leastRatio(point: PlanPoint): number;
}

/**
 * The frame in which a winding ribbon lies straight and equally wide: rows that lie evenly in it share out the width evenly
 * wherever they are, a little further apart than asked where the ribbon is widest, nearer where it is narrower. Null for ground
 * that is no ribbon, for one that hardly bends, and for one that a single row waters.
 */
export function ribbonFrame(ground: Polygon, rowSpacingM: number): RibbonFrame | null {
  const middle = centrelineOf({ outer: ground.outer, holes: [] }, rowSpacingM / 4);
  if (!middle) return null;
  const lengthM = polylineLengthM(middle);
  const widthM = ringAreaM2(ground.outer) / lengthM;
  const isStraight = bendRangeRad(middle) < LEAST_BEND_RAD && strayM(middle) < LEAST_STRAY_ROWS * rowSpacingM;
  if (lengthM < LEAST_SLENDER_RATIO * widthM || isStraight) return null;
  const beyondM = 2 * widthM + rowSpacingM;
  const bent = bentFrame(middle, widthM, beyondM);
  const endM = beyondM + END_SHARE * widthM;
  const sides = sidesAlong(ground.outer, bent, endM, bent.lengthM - endM, widthM);
  if (!sides) return null;
  const widestM = Math.max(...sides.widthsM);
  if (widestM <= WATERED_RATIO * rowSpacingM) return null;
  const rows = 2 * Math.ceil(widestM / (WATERED_RATIO * rowSpacingM) / 2);
  const apartM = Math.min(WIDEST_RATIO * rowSpacingM, widestM / (rows - 1));
  const heightM = (widestM * rowSpacingM) / apartM;
  const asideM = (heightM - (rows - 1) * rowSpacingM) / 2;
  const sideAt = (x: number): { lowM: number; ratio: number } => {
    const place = (x - endM) / sides.stepM;
    const widthHereM = valueAt(sides.widthsM, place);
    return { lowM: valueAt(sides.middlesM, place) - widthHereM / 2, ratio: widthHereM / heightM };
  };
  const inBent = ({ x, y }: PlanPoint): PlanPoint => {
    const { lowM, ratio } = sideAt(x);
    return { x, y: lowM + y * ratio };
  };
  return {
    lowestY: asideM,
    highestY: heightM - asideM,
    toFrame: (point) => {
      const { x, y } = bent.toFrame(point);
      const { lowM, ratio } = sideAt(x);
      return { x, y: (y - lowM) / ratio };
    },
    toPlan: (point) => bent.toPlan(inBent(point)),
    leastRatio: (point) => Math.min(bent.alongRatio(inBent(point)), sideAt(point.x).ratio),
  };
}

/** The value at a place among evenly spaced ones, carried on past both ends as it went there for a little. */
function valueAt(values: readonly number[], place: number): number {
  const last = values.length - 1;
  if (place < 0 || place > last) {
    const [end, inner] =
      place < 0 ? [0, Math.min(last, ENDING_STEPS)] : [last, Math.max(0, last - ENDING_STEPS)];
    const steps = Math.max(-MOST_STEPS_BEYOND, Math.min(MOST_STEPS_BEYOND, place - end));
    return values[end]! + ((values[end]! - values[inner]!) / (end - inner || 1)) * steps;
  }
  const index = Math.min(last - 1, Math.floor(place));
  return values[index]! + (place - index) * (values[index + 1]! - values[index]!);
}

/** Between the headings furthest apart on the way along a line. */
function bendRangeRad(line: Polyline): number {
  let headingRad = 0;
  let least = 0;
  let most = 0;
  for (let index = 1; index + 1 < line.length; index++) {
    headingRad += turnRad(line[index - 1]!, line[index]!, line[index + 1]!);
    least = Math.min(least, headingRad);
    most = Math.max(most, headingRad);
  }
  return most - least;
}

/** How far a line strays from the straight one between its ends, metres. */
function strayM(line: Polyline): number {
  const [first, last] = [line[0]!, line.at(-1)!];
  return Math.max(...line.map((point) => distanceToSegmentM(point, first, last)));
}

/** Widths of a ribbon and how far its middle lies to the left of the line, at even steps; null where a side is not met. */
interface Sides {
  readonly stepM: number;
  readonly widthsM: readonly number[];
  readonly middlesM: readonly number[];
}

function sidesAlong(outer: Ring, frame: BentFrame, fromM: number, toM: number, widthM: number): Sides | null {
  const count = Math.max(2, Math.ceil((toM - fromM) / STEP_M));
  const stepM = (toM - fromM) / count;
  if (!(stepM > 0)) return null;
  const ring = closeRing(outer).map(frame.toFrame);
  const left: number[] = [];
  const right: number[] = [];
  for (let index = 0; index <= count; index++) {
    const crossings = crossingsAt(ring, fromM + index * stepM);
    const above = crossings.filter((y) => y > 0);
    const below = crossings.filter((y) => y <= 0);
    if (above.length === 0 || below.length === 0) return null;
    left.push(Math.min(...above));
    right.push(Math.max(...below));
  }
  const evened = (values: readonly number[]): number[] =>
    runningMeans(values, Math.round(widthM / 2 / stepM));
  const [smoothLeft, smoothRight] = [evened(left), evened(right)];
  return {
    stepM,
    widthsM: smoothLeft.map((y, index) => y - smoothRight[index]!),
    middlesM: smoothLeft.map((y, index) => (y + smoothRight[index]!) / 2),
  };
}

function crossingsAt(ring: Polyline, x: number): number[] {
  return ring.slice(1).flatMap((b, index) => {
    const a = ring[index]!;
    return a.x <= x !== b.x <= x ? [a.y + ((x - a.x) / (b.x - a.x)) * (b.y - a.y)] : [];
  });
}
