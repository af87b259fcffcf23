import { describe, expect, it } from 'vitest';
import { angleOfCosine, cosOf, headingOf, shareOf, sinOf, tanOf } from '../../../src/core/geometry';

const isWhole = (value: number): boolean => Number.isInteger(value);

describe('angles that every engine rounds alike', () => {
  it('keep no bit below 2^-40 that an engine might round its own way, and stay within half of that', () => {
    for (let step = 1; step < 500; step++) {
      const angleRad = step * 0.0127;
      for (const [rounded, exact] of [
        [cosOf(angleRad), Math.cos(angleRad)],
        [sinOf(angleRad), Math.sin(angleRad)],
        [tanOf(angleRad / 10), Math.tan(angleRad / 10)],
        [headingOf(step, 100), Math.atan2(step, 100)],
        [angleOfCosine(step / 500), Math.acos(step / 500)],
      ] as const) {
        expect(isWhole(rounded * 2 ** 40)).toBe(true);
        expect(Math.abs(rounded - exact)).toBeLessThanOrEqual(2 ** -41);
      }
    }
  });

  it('keep shares to 2^-32', () => {
    expect(shareOf(0)).toBe(1);
    // e^-1 = 0.36787944117 (handbook value of 1/e).
    expect(shareOf(-1)).toBeCloseTo(0.36787944117, 9);
    expect(isWhole(shareOf(-1) * 2 ** 32)).toBe(true);
  });
});
