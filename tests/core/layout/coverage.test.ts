import { describe, expect, test } from 'vitest';
import { measureCoverage } from '../../../src/core/layout';
import { firstEmitterM, placeEmitters } from '../../../src/core/layout/emitters';
import { countRows, countTurns, straightShare, wateringLengthM } from '../../../src/core/layout/figures';

const rectangle = (w: number, h: number) => [
  {
    outer: [
      { x: 0, y: 0 },
      { x: w, y: 0 },
      { x: w, y: h },
      { x: 0, y: h },
    ],
    holes: [],
  },
];
const row = (y: number, w: number) => [
  { x: 0, y },
  { x: w, y },
];

describe('coverage of ground by tubing', () => {
  test('one row along the edge of a bed two rows deep covers 0.55 of a row spacing of it', () => {
    const coverage = measureCoverage(rectangle(10, 1), [row(0, 10)], 0.5);
    // By hand: 0.55 x 0.5 m of 1 m is covered; the far edge is 1 m away, less half a sample step.
    expect(coverage.coveredRatio).toBeCloseTo(0.275, 1);
    expect(coverage.maxGapM).toBeGreaterThan(0.95);
    expect(coverage.maxGapM).toBeLessThanOrEqual(1.001);
    expect(coverage.gaps.length).toBeGreaterThan(0);
  });

  test('rows one spacing apart cover everything', () => {
    const rows = [0, 0.5, 1].map((y) => row(y, 10));
    const coverage = measureCoverage(rectangle(10, 1), rows, 0.5);
    expect(coverage.coveredRatio).toBe(1);
    expect(coverage.maxGapM).toBeLessThanOrEqual(0.2501);
    expect(coverage.gaps).toEqual([]);
  });

  test('no tubing covers nothing, and no ground needs none', () => {
    expect(measureCoverage(rectangle(2, 2), [], 0.5).coveredRatio).toBe(0);
    expect(measureCoverage([], [], 0.5)).toEqual({ coveredRatio: 1, maxGapM: 0, gaps: [] });
  });
});

describe('emitters along tubing', () => {
  test('the first stands half a spacing from the tee, so that a loop closes in step', () => {
    expect(firstEmitterM(0.3, false)).toBe(0.15);
    expect(placeEmitters(3, 0.3, 0.15)).toHaveLength(10);
  });

  test('a staggered row begins a whole spacing from the header: half a spacing out of step', () => {
    expect(firstEmitterM(0.3, true) - firstEmitterM(0.3, false)).toBeCloseTo(0.15, 12);
  });

  test('none sits on a barb, and a piece too short has none', () => {
    const positions = placeEmitters(1.21, 0.3, 0.3);
    expect(positions.at(-1)).toBeLessThanOrEqual(1.18);
    expect(placeEmitters(0.1, 0.3, 0.15)).toEqual([]);
  });
});

describe('figures a crew reads', () => {
  const square = [
    { x: 0, y: 0 },
    { x: 4, y: 0 },
    { x: 4, y: 3 },
    { x: 0, y: 3 },
    { x: 0, y: 0 },
  ];

  test('the tubing of a bed is what waters: the lead in and plain links are not counted', () => {
    const run = (role: 'loop' | 'lead' | 'connector' | 'centre-row', lengthM: number) => ({ role, lengthM });
    const runs = [run('loop', 30), run('lead', 1), run('connector', 2), run('centre-row', 4)];
    expect(wateringLengthM(runs)).toBe(34);
  });

  test('a rectangle walked round has a turn at each of its four corners, three sides of it two', () => {
    expect(countTurns(square, 0.5)).toBe(4);
    expect(countTurns(square.slice(0, 4), 0.5)).toBe(2);
  });

  test('a row that follows a gentle bend does not turn, one that turns back on itself does: twice, a quarter at a time', () => {
    const arc = (radiusM: number, turnedRad: number) =>
      Array.from({ length: 41 }, (_, k) => ({
        x: radiusM * Math.sin((turnedRad * k) / 40),
        y: radiusM * (1 - Math.cos((turnedRad * k) / 40)),
      }));
    // Rows 0.5 m apart; turns by definition change the heading by 60 degrees within 0.6 of that.
    expect(countTurns(arc(1.5, Math.PI / 2), 0.5)).toBe(0);
    expect(countTurns(arc(0.25, Math.PI), 0.5)).toBe(2);
  });

  test('all of it is straight, and two sides lie along the rows', () => {
    expect(straightShare(square, 0.5)).toBeCloseTo(1, 12);
    expect(countRows([square], 0, 0.5)).toBe(2);
    expect(countRows([square], Math.PI / 2, 0.5)).toBe(2);
  });
});
