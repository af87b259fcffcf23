import { describe, expect, test } from 'vitest';
import { type BedRing, type LaidRun, type VerifyInput, verifyRuns } from '../../../src/core/layout';

const SPACING_M = 0.4572;
const BEND_M = 0.127;

const ring = (corners: readonly (readonly [number, number])[], offsetM = 0.0762): BedRing => ({
  points: corners.map(([x, y]) => ({ x, y })),
  edges: corners.map(() => ({ class: 'paving', offsetM })),
});
const bed = ring([
  [0, 0],
  [4, 0],
  [4, 2],
  [0, 2],
]);

/** A rectangle of tubing with quarter bends of the given radius, in chords of 10 degrees. */
function roundedLoop(x0: number, y0: number, x1: number, y1: number, radiusM: number): LaidRun {
  const corners = [
    { x: x1 - radiusM, y: y0 + radiusM, from: -90 },
    { x: x1 - radiusM, y: y1 - radiusM, from: 0 },
    { x: x0 + radiusM, y: y1 - radiusM, from: 90 },
    { x: x0 + radiusM, y: y0 + radiusM, from: 180 },
  ];
  const points = corners.flatMap(({ x, y, from }) =>
    Array.from({ length: 10 }, (_, k) => {
      const angle = ((from + 10 * k) * Math.PI) / 180;
      return { x: x + radiusM * Math.cos(angle), y: y + radiusM * Math.sin(angle) };
    }),
  );
  return { id: 'loop', role: 'loop', closed: true, path: [...points, points[0]!] };
}

const check = (runs: readonly LaidRun[], more: Partial<VerifyInput> = {}) =>
  verifyRuns({
    rings: [bed],
    obstacles: [],
    runs,
    joins: [],
    rowSpacingM: SPACING_M,
    bendRadiusM: BEND_M,
    ...more,
  });

describe('the verifier of laid tubing', () => {
  test('a rounded loop a hand from every edge passes, with its own figures', () => {
    const verified = check([roundedLoop(0.1, 0.1, 3.9, 1.9, 0.2)]);
    expect(verified).toMatchObject({ passed: true, crossings: 0, closed: true, failures: [] });
    // By hand: the loop lies 0.1 m from every edge, whose offset is 0.0762 m.
    expect(verified.worstClearanceM).toBeCloseTo(0.1 - 0.0762, 3);
    expect(verified.minBendRadiusM).toBeGreaterThan(0.19);
    expect(verified.minBendRadiusM).toBeLessThan(0.21);
  });

  test('a loop too near an edge fails by as much as it is too near', () => {
    const verified = check([roundedLoop(0.05, 0.1, 3.9, 1.9, 0.2)]);
    expect(verified.failures).toEqual(['clearance']);
    expect(verified.worstClearanceM).toBeCloseTo(0.05 - 0.0762, 3);
  });

  test('tubing outside the bed is said to be outside', () => {
    expect(check([roundedLoop(0.1, 0.1, 4.4, 1.9, 0.2)]).failures).toContain('outside');
  });

  test('a figure of eight crosses itself', () => {
    const path = [
      { x: 0.2, y: 0.2 },
      { x: 3.8, y: 1.8 },
      { x: 3.8, y: 0.2 },
      { x: 0.2, y: 1.8 },
      { x: 0.2, y: 0.2 },
    ];
    const verified = check([{ id: 'loop', role: 'loop', closed: true, path }]);
    expect(verified.crossings).toBeGreaterThan(0);
    expect(verified.failures).toContain('crossing');
    expect(verified.failures).toContain('bend');
  });

  test('a U-turn of just the least bend keeps its passes far enough apart, and a tighter pair of passes does not', () => {
    // By hand: two bends of the least radius side by side lie twice that radius apart, which is what a U-turn needs.
    const turned = check([roundedLoop(0.1, 0.5, 3.9, 0.5 + 2 * BEND_M, BEND_M)], { rowSpacingM: 0.3048 });
    expect(turned.failures).toEqual([]);
    expect(turned.separationM).toBeCloseTo(2 * BEND_M, 3);
    const tight = check([roundedLoop(0.1, 0.5, 3.9, 0.5 + 2 * BEND_M - 0.01, BEND_M - 0.005)], {
      rowSpacingM: 0.3048,
    });
    expect(tight.failures).toContain('separation');
  });

  test('two passes nearer than 0.6 of the row spacing fail for separation', () => {
    // The two long sides lie 0.26 m apart; 0.6 x 0.4572 = 0.274 m is wanted.
    const verified = check([roundedLoop(0.1, 0.5, 3.9, 0.76, 0.13)]);
    expect(verified.failures).toEqual(['separation']);
    expect(verified.separationM).toBeCloseTo(0.26, 3);
  });

  test('a corner bent tighter than the tubing bears fails for its bend', () => {
    expect(check([roundedLoop(0.1, 0.1, 3.9, 1.9, 0.06)]).failures).toContain('bend');
  });

  test('a hairpin is found even where its legs are neighbours along the tube', () => {
    const path = [
      { x: 0.3, y: 0.5 },
      { x: 3, y: 0.5 },
      { x: 3, y: 0.54 },
      { x: 0.3, y: 0.54 },
    ];
    const verified = check([{ id: 'row', role: 'single-row', closed: false, path }]);
    expect(verified.failures).toContain('hairpin');
  });

  test('a loop that does not come back is open', () => {
    const open = roundedLoop(0.1, 0.1, 3.9, 1.9, 0.2);
    expect(check([{ ...open, path: open.path.slice(0, -1) }]).failures).toContain('open-loop');
  });

  test('a centre row may meet its loop at its tees and nowhere else', () => {
    const loop = roundedLoop(0.1, 0.1, 3.9, 1.9, 0.2);
    const row: LaidRun = {
      id: 'row',
      role: 'centre-row',
      closed: false,
      path: [
        { x: 0.1, y: 1 },
        { x: 3.9, y: 1 },
      ],
    };
    const tees = [0.1, 3.9].map((x) => ({ x, y: 1, runIds: ['loop', 'row'], fitting: 'tee' as const }));
    expect(check([loop, row], { joins: tees }).passed).toBe(true);
    expect(check([loop, row]).failures).toContain('separation');
  });

  test('an obstacle keeps its own clearance', () => {
    const obstacle = {
      id: 'boulder',
      clearanceM: 0.15,
      outline: [
        { x: 1.8, y: 0.18 },
        { x: 2.2, y: 0.18 },
        { x: 2.2, y: 0.5 },
        { x: 1.8, y: 0.5 },
      ],
    };
    const verified = check([roundedLoop(0.1, 0.1, 3.9, 1.9, 0.2)], { obstacles: [obstacle] });
    expect(verified.failures).toEqual(['clearance']);
    expect(verified.worstClearanceM).toBeCloseTo(0.08 - 0.15, 3);
  });

  test('a point that is no number stops everything else', () => {
    const broken: LaidRun = { id: 'loop', role: 'loop', closed: true, path: [{ x: Number.NaN, y: 0 }] };
    expect(check([broken]).failures).toEqual(['not-finite']);
  });
});
