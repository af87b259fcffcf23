import fc from 'fast-check';
import { expect, test } from 'vitest';
import { chooseScale, METRIC_SCALES, scaleBar, scaleLabel, US_SCALES } from '../../../src/core/drawing';

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

test('a scale bar has at least four parts, of whole feet or of tenths of a metre', () => {
  for (const { denominator, label } of US_SCALES) {
    const bar = scaleBar(denominator, 'us', 152.4);
    // By hand: paper length in inches times the denominator, over 12, is the length in feet.
    expect(((bar.paperMm / 25.4) * denominator) / 12, label).toBeCloseTo(bar.partFigure * bar.parts, 9);
    expect(bar.parts, label).toBeGreaterThanOrEqual(4);
    expect(Number.isInteger(bar.partFigure), label).toBe(true);
  }
  for (const { denominator, label } of METRIC_SCALES) {
    const bar = scaleBar(denominator, 'metric', 150);
    expect((bar.paperMm * denominator) / 1000, label).toBeCloseTo(bar.partFigure * bar.parts, 9);
    expect(bar.parts, label).toBeGreaterThanOrEqual(4);
    expect(bar.partFigure * 10, label).toBeCloseTo(Math.round(bar.partFigure * 10), 9);
  }
});
