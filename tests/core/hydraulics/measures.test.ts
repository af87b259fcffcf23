import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  coefficientOfVariation,
  distributionUniformity,
  emissionUniformity,
  flowVariation,
  seededRandom,
  spreadOf,
  statisticalUniformity,
  uniformityByTrial,
} from '../../../src/core/hydraulics';
import published from '../../reference/hydraulics/emitters.json';

describe('emission uniformity of Keller and Karmeli', () => {
  it('gives the tabulated examples', () => {
    for (const { v, e, qmin, qavg, EU } of published.emissionUniformity) {
      // Three flows with the wanted least and mean.
      const flows = [qmin, qavg, 2 * qavg - qmin];
      expect(emissionUniformity(flows, v, e) * 100).toBeCloseTo(EU, 3);
    }
  });

  it('gives 84.8 % for the orchard of the examination problem: q = 0.3 H^0.6, mean 120 kPa, least 100 kPa, two emitters a tree', () => {
    const low = 0.3 * 100 ** 0.6;
    const mean = 0.3 * 120 ** 0.6;
    expect(emissionUniformity([low, mean, 2 * mean - low], 0.06, 2) * 100).toBeCloseTo(
      published.examProblem.computed_answer,
      2,
    );
  });
});

describe('low-quarter distribution uniformity', () => {
  it('gives the printed 92 %: mean 0.48 gph, low quarter 0.44 gph', () => {
    // Eight emitters: two at 0.44 and six at 0.4933, so that the mean is 0.48.
    const flows = [0.44, 0.44, ...Array.from({ length: 6 }, () => (0.48 * 8 - 0.88) / 6)];
    expect(Math.round(distributionUniformity(flows) * 100)).toBe(published.lowQuarter.published_pct);
  });

  it('counts a quarter that is no whole number by its share', () => {
    // Six values: a quarter is 1.5, so (1 + 0.5 x 2) / 1.5 = 1.3333 over a mean of 3.5. By hand.
    expect(distributionUniformity([1, 2, 3, 4, 5, 6])).toBeCloseTo(1.33333 / 3.5, 4);
    expect(spreadOf([1, 2, 3, 4, 5, 6]).lowQuarterMean).toBeCloseTo(4 / 3, 12);
  });
});

describe('statistical uniformity', () => {
  it('gives 88.2 % for the eighteen fill times of the examination data', () => {
    const flows = published.fillTimes.times_s.map((seconds) => 1 / seconds);
    expect(coefficientOfVariation(flows)).toBeCloseTo(published.fillTimes.computed.Vq_sample_sd, 5);
    expect(statisticalUniformity(flows) * 100).toBeCloseTo(published.fillTimes.computed.Us_sample, 3);
  });

  it('adds manufacture and hydraulics as squares', () => {
    // Flows of variation 0.04 (0.96 and 1.04 have 0.0566 by n - 1): 1 - sqrt(0.03^2 + 0.0565685^2) = 0.93597. By hand.
    expect(statisticalUniformity([0.96, 1.04], 0.03)).toBeCloseTo(0.93597, 5);
  });
});

describe('uniformity by trial', () => {
  const flows = Array.from({ length: 400 }, (_, i) => 1 - 0.05 * (i / 399));

  it('is the same for the same seed and another for another', () => {
    const once = uniformityByTrial(flows, 0.05, seededRandom(7));
    expect(uniformityByTrial(flows, 0.05, seededRandom(7))).toEqual(once);
    expect(uniformityByTrial(flows, 0.05, seededRandom(8))).not.toEqual(once);
  });

  it('agrees with the formulas it checks: Us, and the low quarter at 1 - 1.27 Vq', () => {
    const { statisticalUniformity: us, distributionUniformity: du } = uniformityByTrial(
      flows,
      0.05,
      seededRandom(1),
      300,
    );
    expect(Math.abs(us.mean - statisticalUniformity(flows, 0.05))).toBeLessThan(0.003);
    expect(Math.abs(du.mean - (1 - 1.27 * (1 - statisticalUniformity(flows, 0.05))))).toBeLessThan(0.005);
    expect(du.low).toBeLessThan(du.mean);
    expect(du.high).toBeGreaterThan(du.mean);
  });

  it('changes nothing where every emitter is made alike', () => {
    const { distributionUniformity: du } = uniformityByTrial(flows, 0, seededRandom(1), 5);
    expect(du.mean).toBeCloseTo(distributionUniformity(flows), 12);
  });
});

describe('every measure', () => {
  const flows = fc.array(fc.double({ min: 1e-9, max: 1e-3, noNaN: true }), { minLength: 1, maxLength: 60 });

  it('lies between 0 and 1, does not depend on order, and is 1 for equal flows', () => {
    fc.assert(
      fc.property(flows, (values) => {
        for (const measure of [
          distributionUniformity,
          (v: number[]) => emissionUniformity(v, 0.02),
          (v: number[]) => statisticalUniformity(v),
          flowVariation,
        ]) {
          const figure = measure(values);
          expect(figure).toBeGreaterThanOrEqual(0);
          expect(figure).toBeLessThanOrEqual(1 + 1e-12);
          expect(measure([...values].reverse())).toBeCloseTo(figure, 9);
        }
        const equal = values.map(() => values[0]!);
        expect(distributionUniformity(equal)).toBeCloseTo(1, 12);
        expect(statisticalUniformity(equal)).toBeCloseTo(1, 12);
      }),
    );
  });

  it('answers 0 for a zone where nothing flows', () => {
    expect(emissionUniformity([0, 0], 0.03)).toBe(0);
    expect(distributionUniformity([])).toBe(0);
  });
});
