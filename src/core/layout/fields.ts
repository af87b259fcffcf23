import {
  type Box,
  boxOfAll,
  intersectRings,
  nestRings,
  type Polygon,
  polygonAreaM2,
  type Ring,
  rotatePoints,
} from '../geometry';
import { leastSeparationM } from './loop';
import { sectionsAt } from './sections';
import type { LayoutInput } from './types';

/** Turns, the return line and the ends of rows take this much more than the rows themselves. */
const BEYOND_ROWS_RATIO = 1.08;
/** Loops within this share of their mean length are about equal. */
const ABOUT_EQUAL_RATIO = 0.12;
/** Ground smaller than this many row squares is no field of its own. */
const LEAST_FIELD_ROWS2 = 1.5;

/** Ground cut into fields that one loop each may serve, in the frame of their rows' direction. */
export interface Fields {
  readonly directionRad: number;
  /** In plan metres, row by row. */
  readonly pieces: readonly Polygon[];
}

/**
 * Cuts ground too large for one loop into fields of an even number of rows, so that every loop is under `maxLoopM` and
 * they are about equal. Fields lie one above the other, a row apart, each reaching the edge where its tee will be; in two
 * columns where even two rows across are too long.
 */
export function cutFields(
  ground: Polygon,
  input: LayoutInput,
  directionRad: number,
  maxLoopM: number,
): Fields {
  const rings = [ground.outer, ...ground.holes].map((ring) => rotatePoints(ring, -directionRad));
  const box = boxOfAll(rings)!;
  const spacingM = input.rowSpacingM;
  const leastM = leastSeparationM(spacingM, input.bendRadiusM);
  const heightM = box.maxY - box.minY;
  const gaps = oddAtLeast(Math.ceil(heightM / (1.03 * spacingM)));
  const stepM = Math.max(heightM / gaps, leastM);
  const gapM = Math.max(leastM, 0.9 * spacingM);
  const rows = Math.max(2, Math.round(heightM / stepM) + 1);
  const plans = [1, 2].map((columns) =>
    planColumns(columnsOf(rings, box, columns, gapM), box.minY, stepM, rows, maxLoopM),
  );
  const best = plans.reduce((one, other) => (isBetter(other, one) ? other : one));
  const pieces = best.columns.flatMap(({ ground: column, groups }) =>
    groups.flatMap(([first, last]) => {
      const low = box.minY + 2 * first * stepM;
      const high = box.minY + (2 * last + 1) * stepM;
      const band: Ring = [
        { x: box.minX - 1, y: low },
        { x: box.maxX + 1, y: low },
        { x: box.maxX + 1, y: high },
        { x: box.minX - 1, y: high },
      ];
      return nestRings(intersectRings(column, [band]));
    }),
  );
  const least = LEAST_FIELD_ROWS2 * spacingM * spacingM;
  return {
    directionRad,
    pieces: pieces
      .filter((piece) => polygonAreaM2(piece) > least)
      .map((piece) => ({
        outer: rotatePoints(piece.outer, directionRad),
        holes: piece.holes.map((hole) => rotatePoints(hole, directionRad)),
      })),
  };
}

const oddAtLeast = (count: number): number => (count % 2 === 1 ? count : count + 1);

interface ColumnPlan {
  readonly columns: readonly {
    readonly ground: readonly Ring[];
    readonly groups: readonly [number, number][];
  }[];
  readonly loopsM: readonly number[];
  readonly isUnder: boolean;
}

/** The fewest loops a cutting into columns can do with, or a few more where that makes them about equal. */
function planColumns(
  columns: readonly (readonly Ring[])[],
  minY: number,
  stepM: number,
  rows: number,
  maxLoopM: number,
): ColumnPlan {
  const planned = columns.map((ground) => {
    const pairs = pairLengths(ground, minY, stepM, rows);
    const fewest = groupsUnder(pairs, limitFor(pairs, maxLoopM)).length;
    const tries = [0, 1, 2].map((more) => balancedGroups(pairs, fewest + more));
    const isEven = (groups: [number, number][]): boolean =>
      unevenness(sums(pairs, groups)) <= ABOUT_EQUAL_RATIO;
    const groups = tries.find(isEven) ?? tries[0]!;
    return { ground, groups, loopsM: sums(pairs, groups) };
  });
  const loopsM = planned.flatMap((column) => column.loopsM);
  return {
    columns: planned,
    loopsM,
    isUnder: Math.max(...loopsM) * BEYOND_ROWS_RATIO <= maxLoopM,
  };
}

const limitFor = (pairs: readonly number[], maxLoopM: number): number =>
  Math.max(maxLoopM / BEYOND_ROWS_RATIO, ...pairs);

const sums = (pairs: readonly number[], groups: readonly [number, number][]): number[] =>
  groups.map(([first, last]) => pairs.slice(first, last + 1).reduce((sum, lengthM) => sum + lengthM, 0));

/** How far the loops stray from their mean, as a share of it. */
function unevenness(loopsM: readonly number[]): number {
  const mean = loopsM.reduce((sum, lengthM) => sum + lengthM, 0) / loopsM.length;
  return mean > 0 ? Math.max(...loopsM.map((lengthM) => Math.abs(lengthM / mean - 1))) : 0;
}

/** Under the limit first, then about equal, then fewer loops, then fewer columns. */
function isBetter(plan: ColumnPlan, than: ColumnPlan): boolean {
  if (plan.isUnder !== than.isUnder) return plan.isUnder;
  const isEven = unevenness(plan.loopsM) <= ABOUT_EQUAL_RATIO;
  const isOtherEven = unevenness(than.loopsM) <= ABOUT_EQUAL_RATIO;
  if (isEven !== isOtherEven) return isEven;
  return plan.loopsM.length < than.loopsM.length;
}

/** The ground whole, or cut in two down the middle of its rows. */
function columnsOf(rings: readonly Ring[], box: Box, columns: number, gapM: number): (readonly Ring[])[] {
  if (columns < 2) return [rings];
  const middle = (box.minX + box.maxX) / 2;
  const half = (from: number, to: number): Ring[] =>
    intersectRings(rings, [
      [
        { x: from, y: box.minY - 1 },
        { x: to, y: box.minY - 1 },
        { x: to, y: box.maxY + 1 },
        { x: from, y: box.maxY + 1 },
      ],
    ]);
  return [half(box.minX - 1, middle - gapM / 2), half(middle + gapM / 2, box.maxX + 1)];
}

/** Tubing of each pair of neighbouring rows, turns included. */
function pairLengths(rings: readonly Ring[], minY: number, stepM: number, rows: number): number[] {
  const hairM = 2e-3;
  return Array.from({ length: Math.floor(rows / 2) }, (_, pair) => {
    const low = sectionsAt(rings, minY + 2 * pair * stepM + hairM);
    const high = sectionsAt(rings, minY + (2 * pair + 1) * stepM - hairM);
    const rowsM = [...low, ...high].reduce((sum, [from, to]) => sum + to - from, 0);
    return rowsM > 0 ? rowsM + 2 * stepM * Math.max(low.length, high.length) : 0;
  });
}

/** Neighbouring pairs in `count` groups, the longest as short as can be. */
function balancedGroups(pairs: readonly number[], count: number): [number, number][] {
  let low = Math.max(...pairs);
  let high = pairs.reduce((sum, lengthM) => sum + lengthM, 0);
  for (let step = 0; step < 40; step += 1) {
    const middle = (low + high) / 2;
    if (groupsUnder(pairs, middle).length <= count) high = middle;
    else low = middle;
  }
  return groupsUnder(pairs, high);
}

function groupsUnder(pairs: readonly number[], limitM: number): [number, number][] {
  const groups: [number, number][] = [];
  let sumM = 0;
  pairs.forEach((lengthM, index) => {
    const last = groups.at(-1);
    if (last && sumM + lengthM <= limitM + 1e-9) {
      last[1] = index;
      sumM += lengthM;
    } else {
      groups.push([index, index]);
      sumM = lengthM;
    }
  });
  return groups;
}
