import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { EmitterLaw } from '../../../src/core/catalog';
import { emitterFlowM3s, emitterRange, fitPowerLaw } from '../../../src/core/hydraulics';
import published from '../../reference/hydraulics/emitters.json';

const GPH_M3S = 3.785411784e-3 / 3600;
const PSI_M = 0.70307;

const power = (nominalFlowM3s: number, nominalHeadM: number, exponent: number): EmitterLaw => ({
  kind: 'power',
  nominalFlowM3s,
  nominalHeadM,
  exponent,
  variationCv: 0.03,
  minHeadM: 3,
  maxHeadM: 30,
});
const compensating: Extract<EmitterLaw, { kind: 'compensating' }> = {
  kind: 'compensating',
  nominalFlowM3s: 0.6 * GPH_M3S,
  thresholdHeadM: 7,
  belowExponent: 0.5,
  plateauSlopePerM: 0.002,
  maxHeadM: 42,
  variationCv: 0.03,
  minHeadM: 7,
};

describe('an emitter q = k h^x', () => {
  it('reproduces fifteen printed orifice discharges, q = k h^0.5 in gpm at feet of head', () => {
    for (const hole of ['hole_3_8', 'hole_7_16', 'hole_1_2'] as const) {
      const law = power(published.orifices.rows[0]![hole], 1, 0.5);
      for (const row of published.orifices.rows)
        expect(Math.abs(emitterFlowM3s(law, row.head_ft) / row[hole] - 1)).toBeLessThan(0.005);
    }
  });

  it('gives the FAO example: 4 L/h at 10 m with x 0.42 asks 12 m for 4.32 L/h', () => {
    const { q_lph, H_m, x, qa_lph, published_Ha_m } = published.fao;
    const law = power(q_lph, H_m, x);
    expect(Math.abs(emitterFlowM3s(law, published_Ha_m) / qa_lph - 1)).toBeLessThan(0.001);
  });

  it('is found again from two tested points', () => {
    // x = ln(q1/q2)/ln(h1/h2): 1.6 L/h at 10 m and 2.0 L/h at 15 m give x = 0.5503 by hand.
    const { exponent, k } = fitPowerLaw({ headM: 10, flowM3s: 1.6 }, { headM: 15, flowM3s: 2 });
    expect(exponent).toBeCloseTo(0.5503, 4);
    expect(k * 10 ** exponent).toBeCloseTo(1.6, 12);
    expect(() => fitPowerLaw({ headM: 10, flowM3s: 1 }, { headM: 10, flowM3s: 1 })).toThrow();
  });

  it('varies by 10.6 % in flow for 20 % in pressure at x 0.5 (and as tabulated for other x)', () => {
    for (const { x, pvar, qvarPct } of published.flowVariation) {
      const law = power(1, 10, x);
      const variation = 1 - emitterFlowM3s(law, 10 * (1 - pvar));
      expect(variation * 100).toBeCloseTo(qvarPct, 2);
    }
  });
});

describe('a compensating emitter', () => {
  it('rises as the root of pressure below its threshold', () => {
    expect(emitterFlowM3s(compensating, 7 / 4) / compensating.nominalFlowM3s).toBeCloseTo(0.5, 10);
  });

  it('holds its nominal flow above it, but for the slope it is given', () => {
    expect(emitterFlowM3s(compensating, 17) / compensating.nominalFlowM3s).toBeCloseTo(1.02, 10);
    const flat = { ...compensating, plateauSlopePerM: 0 };
    expect(emitterFlowM3s(flat, 40)).toBe(flat.nominalFlowM3s);
  });

  it('says when it works outside its range', () => {
    expect(emitterRange(compensating, 5)).toBe('below');
    expect(emitterRange(compensating, 20)).toBe('within');
    expect(emitterRange(compensating, 50)).toBe('above');
  });

  it('with a check valve gives nothing until the valve opens, and its nominal flow from the threshold', () => {
    const checked = { ...compensating, openHeadM: 2 * PSI_M, plateauSlopePerM: 0 };
    expect(emitterFlowM3s(checked, 1.9 * PSI_M)).toBe(0);
    expect(emitterFlowM3s(checked, 2.2 * PSI_M)).toBeGreaterThan(0);
    expect(emitterFlowM3s(checked, 7.1)).toBe(checked.nominalFlowM3s);
  });
});

describe('every emitter law', () => {
  const laws: readonly EmitterLaw[] = [
    power(GPH_M3S, 10, 0.5),
    power(GPH_M3S, 10, 0.05),
    power(GPH_M3S, 10, 1),
    compensating,
    { ...compensating, plateauSlopePerM: 0, openHeadM: 1.4 },
  ];

  it('never falls as pressure rises, and lets nothing in at no pressure', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...laws),
        fc.double({ min: -5, max: 60, noNaN: true }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        (law, headM, moreM) => {
          expect(emitterFlowM3s(law, headM + moreM)).toBeGreaterThanOrEqual(emitterFlowM3s(law, headM));
          if (headM <= 0) expect(emitterFlowM3s(law, headM)).toBe(0);
        },
      ),
    );
  });

  it('has no step and no jump of slope where its branches meet', () => {
    for (const law of laws)
      for (const edge of [0, 0.005, 7 * 0.999, 7 * 1.001].map((h) => h + (law.openHeadM ?? 0))) {
        const nominal = law.nominalFlowM3s;
        const at = (headM: number) => emitterFlowM3s(law, headM) / nominal;
        expect(Math.abs(at(edge + 1e-9) - at(edge - 1e-9))).toBeLessThan(1e-5);
      }
  });
});
