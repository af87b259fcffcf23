import fc from 'fast-check';
import { expect, test } from 'vitest';
import { chooseScale, METRIC_SCALES, scaleLabel, US_SCALES } from '../../../src/core/drawing';

test('scales are named as their rules name them', () => {
  // Architect's: inches to the foot; engineer's: feet to the inch; both by hand (12 in a foot).
  expect(scaleLabel(48, 'us')).toBe('1/4" = 1\'-0"');
  expect(scaleLabel(96, 'us')).toBe('1/8" = 1\'-0"');
  expect(scaleLabel(240, 'us')).toBe('1" = 20\'');
  expect(scaleLabel(50, 'metric')).toBe('1:50');
  expect(scaleLabel(37, 'metric')).toBe('1:37');
});

test('the automatic scale is the largest that fits and keeps rows apart', () => {
  fc.assert(
    fc.property(
      fc.constantFrom('us' as const, 'metric' as const),
      fc.double({ min: 1, max: 120, noNaN: true }),
      fc.double({ min: 1, max: 120, noNaN: true }),
      (system, widthM, heightM) => {
        const question = {
          system,
          widthM,
          heightM,
          roomWidthMm: 300,
          roomHeightMm: 180,
          rowSpacingM: 0.4572,
          leastRowMm: 1.8,
        };
        const { scale, fits } = chooseScale(question);
        const scales = system === 'us' ? US_SCALES : METRIC_SCALES;
        const holds = (d: number) => (widthM * 1000) / d <= 300 && (heightM * 1000) / d <= 180;
        expect((0.4572 * 1000) / scale.denominator).toBeGreaterThanOrEqual(1.8);
        expect(fits).toBe(holds(scale.denominator));
        for (const larger of scales.filter((s) => s.denominator < scale.denominator))
          expect(holds(larger.denominator)).toBe(false);
      },
    ),
  );
});
