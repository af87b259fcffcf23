import type { SoilClass } from '../plan';
import type { Traced } from '../units';
import { soilOf } from './soils';
import { SOURCES } from './sources';

/** Share of level-ground intake left on a slope. Bands as printed; a slope between two bands takes the steeper one's share. */
const SLOPE_BANDS: readonly { readonly toSlopeRatio: number; readonly shareRatio: number }[] = [
  { toSlopeRatio: 0.05, shareRatio: 1 },
  { toSlopeRatio: 0.08, shareRatio: 0.8 },
  { toSlopeRatio: 0.12, shareRatio: 0.6 },
  { toSlopeRatio: 0.2, shareRatio: 0.4 },
];
const STEEPEST_SHARE = 0.25;
const STOCK_BANDS = [0.03, 0.06, 0.12] as const;
/** A slope typed as 8 % must not fall into the next band by the last bit of its number. */
const BAND_EDGE = 1e-9;

/**
 * Share of level-ground intake left on a slope (rise over run, >= 0): 1 to 5 %, then 0.8, 0.6, 0.4, and 0.25 above 20 %.
 * Never rises with slope. Source: NRCS irrigation guide rule of thumb, from memory.
 */
export function slopeShareRatio(slopeRatio: number): number {
  const band = SLOPE_BANDS.find((row) => slopeRatio <= row.toSlopeRatio + BAND_EDGE);
  return band === undefined ? STEEPEST_SHARE : band.shareRatio;
}

/** Rate a soil takes on a slope, m/s: level-ground intake times the slope's share. Never rises with slope. */
export function allowedIntakeMs(soilClass: SoilClass, slopeRatio: number): number {
  return soilOf(soilClass).intakeMs[0].value * slopeShareRatio(slopeRatio);
}

/**
 * Water that may stand on the surface without running off (m) on a slope. Never rises with slope.
 * Source: controller test protocol, surface accumulation by slope (to 3, 6, 12 % and steeper), from memory.
 */
export function surfaceStockM(soilClass: SoilClass, slopeRatio: number): number {
  const stock = soilOf(soilClass).surfaceStockM;
  const band = STOCK_BANDS.findIndex((edge) => slopeRatio <= edge + BAND_EDGE);
  return stock[band === -1 ? 3 : (band as 0 | 1 | 2)];
}

/** The intake on a slope with its formula and inputs. */
export function traceIntake(soilClass: SoilClass, slopeRatio: number): Traced {
  const level = soilOf(soilClass).intakeMs[0];
  return {
    code: 'soilwater.allowed-intake',
    result: { value: allowedIntakeMs(soilClass, slopeRatio), unit: 'm/s' },
    formula: 'intake = level intake x share left on the slope',
    inputs: [
      { name: 'level intake', quantity: { value: level.value, unit: 'm/s' }, from: level.source.text },
      {
        name: 'share left on the slope',
        quantity: { value: slopeShareRatio(slopeRatio), unit: 'ratio' },
        from: SOURCES.slopeReduction.text,
      },
      { name: 'slope', quantity: { value: slopeRatio, unit: 'ratio' } },
    ],
    source: level.source,
  };
}
