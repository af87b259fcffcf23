import { describe, expect, test } from 'vitest';
import { closeRing, distanceToRingM, ringAreaM2 } from '../../../../src/core/geometry';
import { closeRuns } from '../../../../src/core/layout/loop/closeRuns';
import type { DryPatch } from '../../../../src/core/layout/loop/defects';
import { dentRings, dentsFor } from '../../../../src/core/layout/loop/dents';
import { GroundBounds } from '../../../../src/core/layout/loop/groundBounds';
import { RingWalk } from '../../../../src/core/layout/loop/ringWalk';

const SPACING_M = 0.5;
const LIMITS = { spacingM: SPACING_M, minSeparationM: 0.3, bendRadiusM: 0.13 };
const box = (minX: number, minY: number, maxX: number, maxY: number) => [
  { x: minX, y: minY },
  { x: maxX, y: minY },
  { x: maxX, y: maxY },
  { x: minX, y: maxY },
];
/** A pair of rows 10 m long, half a metre apart: a loop that turns at both ends. */
const ROWS = box(0, 0, 10, 0.5);
const spot = (x: number, y: number, distanceM: number): DryPatch => ({
  points: [{ x, y }],
  areaM2: 0.0025,
  at: { x, y },
  distanceM,
});
const dentsOn = (rings: (typeof ROWS)[], patch: DryPatch, ground = box(-20, -20, 30, 30)) =>
  dentsFor(
    rings.map((ring) => new RingWalk(ring)),
    patch,
    { ...LIMITS, bounds: new GroundBounds([ground]) },
  );

describe('a dent towards dry ground', () => {
  test('lengthens the pair of rows whose end lies nearest, until tubing is within half a spacing', () => {
    const patch = spot(10.4, 0.25, 0.4);
    const [dent] = dentsOn([ROWS], patch);
    expect(dent!.kind).toBe('out');
    const [dented] = dentRings([ROWS], [dent!])[0]!;
    // 0.48 of the spacing is 0.24 m.
    expect(distanceToRingM(patch.at, dented!)).toBeCloseTo(0.24, 3);
    expect(ringAreaM2(dented!)).toBeGreaterThan(ringAreaM2(ROWS));
  });

  test('leaves a row straight further than a few spacings from the patch', () => {
    const wide = box(0, 0, 10, 0.7);
    const [dent] = dentsOn([wide], spot(5, 1.02, 0.32));
    const [dented] = dentRings([wide], [dent!])[0]!;
    // Depth 0.32 - 0.24 m; the slope and the tip's radius to each side.
    const reachM = 3.2 * 0.08 + 2 * 1.02 * 0.15;
    const offRow = dented!.filter((point) => point.y > 0.7 + 1e-6);
    expect(offRow.length).toBeGreaterThan(0);
    for (const { x } of offRow) expect(Math.abs(x - 5)).toBeLessThan(reachM + 0.01);
  });

  test('has its tip on the ground, with room for its bend, where the dry ground lies at the edge', () => {
    const ground = box(-1, 0, 10.5, 2);
    const [dent] = dentsOn([ROWS], spot(10.5, 0, 0.5), ground);
    const [dented] = dentRings([ROWS], [dent!])[0]!;
    for (const { x, y } of dented!) {
      expect(x).toBeLessThanOrEqual(10.5 + 1e-3);
      expect(y).toBeGreaterThanOrEqual(-1e-3);
    }
    expect(Math.max(...dented!.map(({ x }) => x))).toBeGreaterThan(10.2);
  });

  test('leaves the middle of a row alone where its own pair is no wider than two runs and a tip', () => {
    expect(dentsOn([ROWS], spot(5, 0.82, 0.32))).toEqual([]);
  });

  test('goes into the loop where the dry ground lies inside it', () => {
    const wide = box(0, 0, 10, 0.7);
    const [dent] = dentsOn([wide], spot(9.6, 0.35, 0.35));
    expect(dent!.kind).toBe('in');
    const [dented] = dentRings([wide], [dent!])[0]!;
    expect(ringAreaM2(dented!)).toBeLessThan(ringAreaM2(wide));
  });

  test('is a row’s end before it is the middle of a row, even where the row is a little nearer', () => {
    const other = box(0, 1.1, 6, 1.6);
    const patch = spot(6.25, 0.82, 0.32);
    const [first] = dentsOn([ROWS, other], patch);
    expect(first!.ring).toBe(1);
  });

  test('is not made where it would come nearer to another run than two runs may', () => {
    // Runs all about, each 0.33 m from the spot: whichever is dented comes within 0.3 m of those at its sides.
    const about = [
      box(0, 0, 10, 0.5),
      box(0, 1.16, 10, 1.66),
      box(-1, 0.6, 4.67, 1.06),
      box(5.33, 0.6, 11, 1.06),
    ];
    expect(dentsOn(about, spot(5, 0.83, 0.33))).toEqual([]);
  });
});

describe('a point held inside the ground', () => {
  const bounds = new GroundBounds([box(0, 0, 10, 4), [...box(4, 1, 6, 3)].reverse()]);
  test('stays where it is far from every edge', () => {
    expect(bounds.heldInside({ x: 2, y: 2 }, 0.5)).toEqual({ x: 2, y: 2 });
  });
  test('is moved off the nearest edge, from inside, from outside, from a hole and from the edge itself', () => {
    const held = (x: number, y: number) => bounds.heldInside({ x, y }, 0.5);
    for (const y of [0.2, -0.2, 0]) {
      expect(held(2, y).x).toBeCloseTo(2, 9);
      expect(held(2, y).y).toBeCloseTo(0.5, 9);
    }
    for (const x of [3.9, 4.2, 4]) expect(held(x, 2).x).toBeCloseTo(3.5, 9);
  });
});

describe('a ring walked along', () => {
  const walk = new RingWalk(ROWS);
  test('turns at its ends and nowhere along its rows', () => {
    expect(walk.turnedRad(5, 0.4, 0.1)).toBeCloseTo(0, 9);
    // Round the right end, from one row into the other: half a turn.
    expect(walk.turnedRad(10.25, 0.4, 0.1)).toBeCloseTo(Math.PI, 9);
  });

  test('has its ground to the left', () => {
    expect(walk.besideAt(5, 0.1)).toEqual({ x: 5, y: 0.1 });
    expect(walk.besideAt(-0.25, -0.2)).toEqual({ x: -0.2, y: 0.25 });
  });
});

describe('runs too near', () => {
  test('are found where only parts of two pieces lie further apart along the tubing than a bend', () => {
    // Legs 0.2 m apart: from the middle of one to the middle of the other it is 0.82 m of tubing, 1.64 spacings; bends go up to 1.4.
    // No two whole pieces of a quarter of a spacing lie that far apart.
    const hairpin = box(0, 0, 0.62, 0.2);
    const found = closeRuns([closeRing(hairpin)], SPACING_M, 0.3);
    expect(Math.min(...found.map(({ distanceM }) => distanceM))).toBeCloseTo(0.2, 9);
    expect(closeRuns([closeRing(box(0, 0, 0.25, 0.2))], SPACING_M, 0.3)).toEqual([]);
  });
});
