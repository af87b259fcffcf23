import { describe, expect, it } from 'vitest';
import { pointInPolygon } from '../../../../src/core/geometry';
import { usableArea } from '../../../../src/core/layout/loop';

const OFFSET_M = 0.0762;
const BEND_M = 0.127;

/** An L whose inner corner is the origin, its notch the quarter plane west and south of it. */
const notched = {
  points: [
    { x: 0, y: -3 },
    { x: 3, y: -3 },
    { x: 3, y: 3 },
    { x: -3, y: 3 },
    { x: -3, y: 0 },
    { x: 0, y: 0 },
  ],
  edges: Array.from({ length: 6 }, () => ({ class: 'paving' as const, offsetM: OFFSET_M })),
};

describe('ground beside a corner that tubing goes round', () => {
  const { routable } = usableArea([notched], [], BEND_M);
  const isRoutable = (x: number, y: number): boolean =>
    routable.some((part) => pointInPolygon({ x, y }, part));

  it('is kept off by no more than its offset on the line that halves the corner', () => {
    const reachM = (pastM: number): number => (OFFSET_M + pastM) / Math.SQRT2;
    expect(isRoutable(reachM(0.002), reachM(0.002))).toBe(true);
    expect(isRoutable(reachM(-0.002), reachM(-0.002))).toBe(false);
  });

  it('is left beside it as far as a bend of the tubing needs, worked by hand', () => {
    // The bend's centre lies (0.127 - 0.0762) m behind the corner, so 0.03592 m beyond either edge's line; the bend reaches 0.09108 m.
    const backM = (BEND_M - OFFSET_M) / Math.SQRT2;
    expect(BEND_M - backM).toBeCloseTo(0.09108, 5);
    expect(isRoutable(BEND_M - backM + 0.002, -backM)).toBe(true);
    expect(isRoutable(BEND_M - backM - 0.002, -backM)).toBe(false);
  });

  it('is kept off by the whole offset where that is wider than the bend', () => {
    const wide = { ...notched, edges: notched.edges.map((edge) => ({ ...edge, offsetM: 0.2 })) };
    const parts = usableArea([wide], [], BEND_M).routable;
    const isOn = (x: number, y: number): boolean => parts.some((part) => pointInPolygon({ x, y }, part));
    expect(isOn(0.202, -0.1)).toBe(true);
    expect(isOn(0.198, -0.1)).toBe(false);
  });
});
