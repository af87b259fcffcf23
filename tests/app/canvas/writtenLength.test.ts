import { describe, expect, it } from 'vitest';
import {
  clearOfEachOther,
  coversLine,
  type WrittenLength,
  writtenLengthOf,
} from '../../../src/app/canvas/writtenLength';
import { arcPoints, planToScreen } from '../../../src/core/geometry';
import { printer } from '../../../src/core/units';

const VIEW = { plan: { x: 0, y: 0 }, screen: { x: 100, y: 300 }, pixelsPerM: 20 };
const PRINT = printer('us');
const FOOT = 0.3048;

const covers = (one: WrittenLength, other: WrittenLength): boolean =>
  Math.abs(one.x - other.x) <= (one.widthPx + other.widthPx) / 2 &&
  Math.abs(one.y - other.y) <= (one.heightPx + other.heightPx) / 2;

describe('a length on the sketch', () => {
  it('is that of the arc on an arc, and stands at the arc, not at its chord', () => {
    const chord = { from: { x: 0, y: 0 }, to: { x: 0, y: 6 * FOOT } };
    const arc = { middle: { x: 0.3, y: 3 * FOOT }, lengthM: 6.9 * FOOT };
    const onArc = writtenLengthOf({ ...chord, arc }, VIEW, PRINT);
    expect(onArc?.text).toBe(PRINT.length(arc.lengthM));
    expect(onArc?.x).toBeCloseTo(100 + 0.3 * 20, 9);
  });

  it('stands clear of an arc that bends round it as of a straight edge', () => {
    // A chord of 20 ft eastward whose arc lies 4 ft north of it, the length standing south: the arc's ends come down to it.
    const chord = { from: { x: 0, y: 0 }, to: { x: 20 * FOOT, y: 0 } };
    const height = 4 * FOOT;
    const middle = { x: 10 * FOOT, y: height };
    const arc = { middle, lengthM: 22.1 * FOOT };
    const length = writtenLengthOf({ ...chord, arc, aside: 1 }, VIEW, PRINT)!;
    const line = arcPoints(chord.from, chord.to, -height).map((at) => planToScreen(at, VIEW));
    expect(Math.min(...line.map(({ y }) => y))).toBeCloseTo(300 - height * 20, 0);
    expect(coversLine(length, [line])).toBe(false);
    const outside = writtenLengthOf({ ...chord, arc, aside: -1 }, VIEW, PRINT)!;
    expect(coversLine(outside, [line])).toBe(false);
    expect(outside.y).toBeCloseTo(300 - height * 20 - 2 - outside.heightPx / 2, 9);
  });

  it('is not written on a line too short for it, but for what is being typed', () => {
    const short = { from: { x: 0, y: 0 }, to: { x: 0.5, y: 0 } };
    expect(writtenLengthOf(short, VIEW, PRINT)).toBeNull();
    expect(writtenLengthOf({ ...short, typed: "12'" }, VIEW, PRINT)?.text).toBe("12'|");
  });

  it('stands somewhere even before a line has a length', () => {
    const none = writtenLengthOf({ from: { x: 1, y: 1 }, to: { x: 1, y: 1 }, typed: '8' }, VIEW, PRINT);
    expect([none?.x, none?.y]).toEqual([120, 280]);
  });

  it('does not lie over another edge of a small bed', () => {
    // A bed 3 ft wide: a length under its upper edge, on a line 40 px above the lower one, keeps clear of it only outside.
    const upper = { from: { x: 0, y: 2 }, to: { x: 8 * FOOT, y: 2 } };
    const lower = [
      { x: 100, y: 300 - 1.2 * 20 },
      { x: 148, y: 300 - 1.2 * 20 },
    ];
    expect(coversLine(writtenLengthOf({ ...upper, aside: 1 }, VIEW, PRINT)!, [lower])).toBe(true);
    expect(coversLine(writtenLengthOf({ ...upper, aside: -1 }, VIEW, PRINT)!, [lower])).toBe(false);
    const slanted = [
      { x: 60, y: 200 },
      { x: 200, y: 320 },
    ];
    expect(coversLine(writtenLengthOf({ ...upper, aside: 1 }, VIEW, PRINT)!, [slanted])).toBe(true);
  });

  it('covers none that was written before it', () => {
    // The short edges of an L with an arc at its inner corner, all wanting the same paper.
    const lines = [
      { from: { x: 0, y: 0 }, to: { x: 8 * FOOT, y: 0 }, aside: 1 as const },
      { from: { x: 8 * FOOT, y: 0 }, to: { x: 8 * FOOT, y: -7 * FOOT }, aside: -1 as const },
      { from: { x: 0, y: 9 }, to: { x: 20, y: 9 }, aside: 1 as const },
    ];
    const all = lines.flatMap((line) => writtenLengthOf(line, VIEW, PRINT) ?? []);
    expect(covers(all[0]!, all[1]!)).toBe(true);
    expect(clearOfEachOther(all)).toEqual([all[0], all[2]]);
    expect(clearOfEachOther([all[1]!, all[0]!])).toEqual([all[1]]);
  });
});
