import type { Traced } from '../units';
import { SOURCES } from './sources';
import { wholeDown } from './whole';

/** Root depth where the bed names none: groundcover and shrubs at 12 in. Common practice, no source. */
export const ROOT_DEPTH_M = 0.3048;

/** All water a plant can draw from its root zone, m: available share x root depth. Source: FAO-56 eq. 82. */
export function totalAvailableM(availableRatio: number, rootDepthM: number): number {
  return availableRatio * rootDepthM;
}

/** Water that may be used up before watering, m: p x total. Source: FAO-56 eq. 83. */
export function readilyAvailableM(totalM: number, depletionRatio: number): number {
  return totalM * depletionRatio;
}

/**
 * Stress coefficient of a root zone drawn down by `depletionM`: 1 until the readily available water is gone, then
 * falling to 0. Source: FAO-56 eq. 84.
 */
export function stressRatio(totalM: number, depletionM: number, depletionRatio: number): number {
  if (depletionM <= depletionRatio * totalM) return 1;
  return Math.max(0, (totalM - depletionM) / ((1 - depletionRatio) * totalM));
}

/** Depletion share adjusted for the day's use: p + 0.04 (5 - ETc), held to 0.1..0.8. Source: FAO-56 p. 162. */
export function adjustedDepletionRatio(tableRatio: number, cropEtMmDay: number): number {
  return Math.min(0.8, Math.max(0.1, tableRatio + 0.04 * (5 - cropEtMmDay)));
}

/** Inputs of the watering interval. */
export interface IntervalInput {
  readonly availableRatio: number;
  readonly rootDepthM: number;
  readonly depletionRatio: number;
  /** Share of the ground the tubing wets, 0..1: only that part stores water. */
  readonly wettedRatio: number;
  readonly needPerDayM: number;
  readonly longestDays: number;
}

/** How long the ground lasts between waterings. */
export interface Interval {
  readonly exactDays: number;
  /** Whole days, rounded down, 1 to the longest allowed. */
  readonly days: number;
  /** The ground holds less than a day's need: more than one watering a day is wanted. */
  readonly isUnderOneDay: boolean;
}

/**
 * Days between waterings: available x root depth x allowed depletion x wetted share / daily need, rounded down.
 * Range: needPerDayM >= 0; no need gives the longest interval.
 */
export function wateringInterval(input: IntervalInput): Interval {
  const storeM =
    readilyAvailableM(totalAvailableM(input.availableRatio, input.rootDepthM), input.depletionRatio) *
    input.wettedRatio;
  const exactDays = input.needPerDayM > 0 ? storeM / input.needPerDayM : Number.POSITIVE_INFINITY;
  const days = Number.isFinite(exactDays) ? wholeDown(exactDays) : input.longestDays;
  return {
    exactDays,
    days: Math.min(input.longestDays, Math.max(1, days)),
    isUnderOneDay: exactDays < 1,
  };
}

/** The store between waterings with its formula and inputs. */
export function traceStore(input: IntervalInput, availableFrom: string): Traced {
  return {
    code: 'soilwater.readily-available-water',
    result: {
      value: input.availableRatio * input.rootDepthM * input.depletionRatio * input.wettedRatio,
      unit: 'm of water',
    },
    formula: 'store = available share x root depth x allowed depletion x wetted share',
    inputs: [
      {
        name: 'available share',
        quantity: { value: input.availableRatio, unit: 'ratio' },
        from: availableFrom,
      },
      { name: 'root depth', quantity: { value: input.rootDepthM, unit: 'm' } },
      {
        name: 'allowed depletion',
        quantity: { value: input.depletionRatio, unit: 'ratio' },
        from: SOURCES.practice.text,
      },
      { name: 'wetted share', quantity: { value: input.wettedRatio, unit: 'ratio' } },
    ],
    source: SOURCES.fao56Depletion,
  };
}
