import { describe, expect, it } from 'vitest';
import { findFixedLevels, layLevels } from '../../../../src/core/layout/loop/levels';

const SPACING_M = 0.45;
const LEAST_M = 0.27;
const stepsOf = (levels: readonly number[]): number[] =>
  levels.slice(1).map((y, index) => y - levels[index]!);

describe('heights of rows', () => {
  it('are even, no wider than asked, and even in number: a line across a closed loop meets it an even number of times', () => {
    for (const heightM of [0.9, 1.35, 2, 3.1, 4.75, 8]) {
      const levels = layLevels(0, heightM, [], SPACING_M, LEAST_M)!;
      expect(levels.length % 2).toBe(0);
      expect(levels[0]).toBe(0);
      expect(levels.at(-1)).toBeCloseTo(heightM, 9);
      const steps = stepsOf(levels);
      // 3 % is less than a crew keeps by eye (ours, stated with the constant).
      expect(Math.max(...steps)).toBeLessThanOrEqual(1.03 * SPACING_M + 1e-9);
      expect(Math.max(...steps) - Math.min(...steps)).toBeLessThan(1e-9);
    }
  });

  it('meet a long level edge inside the ground: a floor at an even place, a ceiling at an odd one', () => {
    for (const kind of ['floor', 'ceiling'] as const) {
      const levels = layLevels(0, 5, [{ y: 2.2, kind, weightM: 3 }], SPACING_M, LEAST_M)!;
      const place = levels.findIndex((y) => Math.abs(y - 2.2) < 1e-9);
      expect(place).toBeGreaterThan(0);
      expect(place % 2).toBe(kind === 'floor' ? 0 : 1);
    }
  });

  it('are refused where rows would come nearer than they may', () => {
    // Computed by hand: between floors at 0 and 0.4 m an even number of steps must fit, two of 0.2 m: nearer than 0.27 m.
    expect(layLevels(0, 3, [{ y: 0.4, kind: 'floor', weightM: 3 }], SPACING_M, LEAST_M)).toBeNull();
  });

  it('lie a quarter further apart in the bottom third of a slope', () => {
    for (const downhill of ['low', 'high'] as const) {
      const levels = layLevels(0, 9, [], SPACING_M, LEAST_M, downhill)!;
      const steps = stepsOf(levels);
      const [bottom, top] = downhill === 'low' ? [steps[0]!, steps.at(-1)!] : [steps.at(-1)!, steps[0]!];
      // Common practice, no source: rows 25 % wider where water gathers.
      expect(bottom / top).toBeCloseTo(1.25, 6);
      const wide = steps.filter((step) => Math.abs(step - bottom) < 1e-9);
      expect(wide.reduce((sum, step) => sum + step, 0)).toBeGreaterThan(2.5);
      expect(wide.reduce((sum, step) => sum + step, 0)).toBeLessThan(3.6);
    }
  });

  it('come from long, nearly level edges of the ground, told apart by the side it lies on', () => {
    const ell = [
      [0, 0],
      [9, 0],
      [9, 3],
      [3, 3],
      [3, 8],
      [0, 8],
    ].map(([x, y]) => ({ x: x!, y: y! }));
    const levels = findFixedLevels([ell], SPACING_M).map(({ y, kind }) => [y, kind]);
    expect(levels).toContainEqual([0, 'floor']);
    expect(levels).toContainEqual([3, 'ceiling']);
    expect(levels).toContainEqual([8, 'ceiling']);
    expect(levels).toHaveLength(3);
  });
});
