import { describe, expect, test } from 'vitest';
import { type BedLayout, type LayoutInput, layoutBed } from '../../../src/core/layout';
import { readBedFile } from '../../bench/bedFiles';
import { rowsOf, wetRuns } from '../../bench/layoutFigures';

const FOOT_M = 0.3048;
const INCH_M = 0.0254;
const BEDS = new URL('../../reference/beds/', import.meta.url).pathname;
const asDrawn = readBedFile(`${BEDS}01-rect10x15ft.geojson`).input;
const allowed = (wettedDiameterM: number): LayoutInput => ({
  ...asDrawn,
  rowStretchRatio: 0.15,
  wettedDiameterM,
});
const lengthFt = (part: BedLayout): number =>
  wetRuns(part).reduce((sum, run) => sum + run.lengthM, 0) / FOOT_M;

/**
 * Tubing of a comb-shaped loop, by hand: two whole rows, the others shorter by the return line's distance d, the side of
 * the return line, and one turn on each side for each pair of rows; each bend of 5 in radius saves 2 - pi/2 radii.
 */
function combFt(rows: number, widthFt: number, heightFt: number, returnFt: number): number {
  const gaps = rows - 1;
  const stepFt = heightFt / gaps;
  const across = 2 * widthFt + (rows - 2) * (widthFt - returnFt);
  const bends = 2 * rows;
  return (
    across + heightFt + (rows / 2) * stepFt + (rows / 2 - 1) * stepFt - bends * (2 - Math.PI / 2) * (5 / 12)
  );
}

describe('the 10 x 15 ft bed, 15 in off a foundation and 3 in off the rest, at 18 in', () => {
  // 120 in less 15 and 3 leaves 102 in: 5 gaps of 20.4 in (13.3 % wider than 18) or 7 of 14.57 in; rows 174 in long.
  const [widthFt, heightFt] = [174 / 12, 102 / 12];

  test('takes six rows with 13 % of stretch, about 97 ft, where wet ground joins that far', () => {
    const [part] = layoutBed(allowed(20 * INCH_M));
    expect(part!.chosen).toBe('loop-stretched');
    expect(part!.rowSpacingM / INCH_M).toBeCloseTo(20.4, 1);
    expect(rowsOf(part!, asDrawn)).toHaveLength(6);
    const byHand = combFt(6, widthFt, heightFt, (0.85 * 18) / 12);
    expect(byHand).toBeCloseTo(96.8, 0);
    expect(Math.abs(lengthFt(part!) / byHand - 1)).toBeLessThan(0.02);
    expect(part!.coverage.coveredRatio).toBeGreaterThan(0.99);
    expect(part!.problems.map((problem) => problem.code)).toContain('layout.rows-stretched');
  });

  test('takes eight rows as a plain loop, about 123 ft', () => {
    const [part] = layoutBed({ ...allowed(20 * INCH_M), chosenAlternative: 'loop' });
    expect(part!.chosen).toBe('loop');
    expect(rowsOf(part!, asDrawn)).toHaveLength(8);
    const byHand = combFt(8, widthFt, heightFt, (0.85 * 18) / 12);
    expect(byHand).toBeCloseTo(122.4, 0);
    expect(Math.abs(lengthFt(part!) / byHand - 1)).toBeLessThan(0.02);
  });

  test('is not stretched by default where 14 in wetted leave a dry stripe, and says what was held back', () => {
    // 14 in over 0.8 is 17.5 in: less than the 18 in asked, so nothing may be stretched.
    const [part] = layoutBed(allowed(14 * INCH_M));
    expect(part!.chosen).not.toBe('loop-stretched');
    expect(part!.rowSpacingM).toBeLessThan(18.6 * INCH_M);
    expect(part!.alternatives.map((other) => other.key)).toContain('loop-stretched');
    expect(part!.problems.map((problem) => problem.code)).toContain('layout.stretch-held-back');
  });

  test('is stretched all the same where the designer takes it, with a warning', () => {
    const [part] = layoutBed({ ...allowed(14 * INCH_M), chosenAlternative: 'loop-stretched' });
    const warning = part!.problems.find((problem) => problem.code === 'layout.rows-past-wetted');
    expect(part!.chosen).toBe('loop-stretched');
    expect(warning?.severity).toBe('warn');
  });
});
