import type { SoilClass } from '../plan';
import type { Traced } from '../units';
import { allowedIntakeMs, surfaceStockM } from './slope';
import { soilOf } from './soils';
import { SOURCES } from './sources';
import { wholeDown, wholeUp } from './whole';

/**
 * Longest run before water leaves the surface, seconds: surface stock / (rate - intake). Infinity where the soil takes
 * the rate for ever. Range: all >= 0. Formula from memory; source of stock and intake as given.
 */
export function longestRunS(rateMs: number, intakeMs: number, stockM: number): number {
  if (rateMs <= intakeMs) return Number.POSITIVE_INFINITY;
  return stockM / (rateMs - intakeMs);
}

/**
 * Longest run on a soil and slope, seconds. Slope is counted once in each of two published ways, and the shorter governs:
 * level intake with the slope's surface stock, or the slope's lowered intake with the level surface stock.
 * More slope never lengthens it; nor does a higher rate.
 */
export function runoffLimitS(soilClass: SoilClass, slopeRatio: number, rateMs: number): number {
  const level = longestRunS(
    rateMs,
    soilOf(soilClass).intakeMs[0].value,
    surfaceStockM(soilClass, slopeRatio),
  );
  const lowered = longestRunS(rateMs, allowedIntakeMs(soilClass, slopeRatio), surfaceStockM(soilClass, 0));
  return Math.min(level, lowered);
}

/** The run-off limit with its formula and inputs; undefined where nothing runs off. */
export function traceRunoff(soilClass: SoilClass, slopeRatio: number, rateMs: number): Traced | undefined {
  const limitS = runoffLimitS(soilClass, slopeRatio, rateMs);
  if (!Number.isFinite(limitS)) return undefined;
  const levelIntake = soilOf(soilClass).intakeMs[0];
  const slopeGoverns = limitS < longestRunS(rateMs, levelIntake.value, surfaceStockM(soilClass, slopeRatio));
  const intakeMs = slopeGoverns ? allowedIntakeMs(soilClass, slopeRatio) : levelIntake.value;
  const stockM = surfaceStockM(soilClass, slopeGoverns ? 0 : slopeRatio);
  return {
    code: 'soilwater.runoff-limit',
    result: { value: limitS, unit: 's' },
    formula: 'longest run = surface stock / (rate - intake)',
    inputs: [
      {
        name: 'surface stock',
        quantity: { value: stockM, unit: 'm of water' },
        from: soilOf(soilClass).surfaceStockSource.text,
      },
      { name: 'rate', quantity: { value: rateMs, unit: 'm/s' } },
      { name: 'intake', quantity: { value: intakeMs, unit: 'm/s' }, from: levelIntake.source.text },
    ],
    source: slopeGoverns ? SOURCES.slopeReduction : soilOf(soilClass).surfaceStockSource,
  };
}

/** A watering day split into runs the soil takes. */
export interface Cycles {
  readonly cycles: number;
  readonly minutesPerCycle: number;
  readonly soakMinutes: number;
  /** True where the soil takes less than a whole minute at once: one minute is given all the same. */
  readonly isBelowOneMinute: boolean;
}

/** Shortest rest between two runs. Common practice, 30 to 60 minutes. */
const LEAST_SOAK_MINUTES = 30;

/**
 * Splits the minutes of a watering day into equal whole-minute runs, none longer than the limit.
 * Cycles times minutes is never below the need and less than one minute a cycle above it.
 * Soak is what the surface stock of one run takes to go in, at least 30 minutes (practice).
 *
 * @param minutes  exact need of the day, >= 0
 * @param limitS   longest run, seconds; Infinity for none
 */
export function splitIntoCycles(minutes: number, limitS: number, rateMs: number, intakeMs: number): Cycles {
  if (minutes <= 0) return { cycles: 0, minutesPerCycle: 0, soakMinutes: 0, isBelowOneMinute: false };
  const limitMinutes = Number.isFinite(limitS) ? wholeDown(limitS / 60) : Number.POSITIVE_INFINITY;
  const isBelowOneMinute = limitMinutes < 1;
  const cycles = Math.max(1, wholeUp(minutes / Math.max(1, limitMinutes)));
  const minutesPerCycle = Math.max(1, wholeUp(minutes / cycles));
  const standingM = Math.max(0, rateMs - intakeMs) * minutesPerCycle * 60;
  const clearingMinutes = intakeMs > 0 ? wholeUp(standingM / intakeMs / 60) : LEAST_SOAK_MINUTES;
  return {
    cycles,
    minutesPerCycle,
    soakMinutes: cycles > 1 ? Math.max(LEAST_SOAK_MINUTES, clearingMinutes) : 0,
    isBelowOneMinute,
  };
}
