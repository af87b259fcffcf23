import type { Bed, PlantNeed, Sun } from '../plan';
import type { Source, Traced } from '../units';
import { SOURCES } from './sources';

/** A plant class as the ordinance prints it, with the factor the design uses. */
export interface PlantClass {
  readonly need: PlantNeed;
  readonly lowRatio: number;
  readonly highRatio: number;
  readonly usedRatio: number;
  /** Share of the available water that may be used up before watering. */
  readonly depletionRatio: number;
  /** Longest pause between waterings, whatever the soil holds, days. */
  readonly longestIntervalDays: number;
}

/**
 * Plant factors: 23 CCR 491 (2015). Very low is taken at the top of its class (0.10), low 0.20, moderate 0.50, high 0.80
 * (the plant list stops at 0.9, the regulation at 1.0). The gaps 0.3-0.4 and 0.6-0.7 belong to no class.
 * Depletion: common practice (low-water natives 0.6, shrubs and groundcover 0.5; high ours, between those and annuals at 0.3).
 * Longest intervals: ours, stated, after the reference examples (3 days for moderate shrubs, 7 for low).
 */
export const PLANT_CLASSES: Readonly<Record<PlantNeed, PlantClass>> = {
  'very-low': {
    need: 'very-low',
    lowRatio: 0,
    highRatio: 0.1,
    usedRatio: 0.1,
    depletionRatio: 0.6,
    longestIntervalDays: 7,
  },
  low: {
    need: 'low',
    lowRatio: 0.1,
    highRatio: 0.3,
    usedRatio: 0.2,
    depletionRatio: 0.6,
    longestIntervalDays: 7,
  },
  moderate: {
    need: 'moderate',
    lowRatio: 0.4,
    highRatio: 0.6,
    usedRatio: 0.5,
    depletionRatio: 0.5,
    longestIntervalDays: 3,
  },
  high: {
    need: 'high',
    lowRatio: 0.7,
    highRatio: 1,
    usedRatio: 0.8,
    depletionRatio: 0.4,
    longestIntervalDays: 2,
  },
};

/** The plant factor the design uses for a class. */
export function plantFactorOf(need: PlantNeed): number {
  return PLANT_CLASSES[need].usedRatio;
}

/**
 * Microclimate by sun: full sun 1, part shade 0.8, shade 0.6, inside the guide's low range of 0.5 to 0.9 (ours within a
 * range from memory). A bed's own factor outranks it.
 */
export const SUN_FACTOR: Readonly<Record<Sun, number>> = { 'full-sun': 1, 'part-shade': 0.8, shade: 0.6 };

/** The three factors of a bed's water need and their product. */
export interface LandscapeCoefficient {
  readonly speciesRatio: number;
  readonly densityRatio: number;
  readonly microclimateRatio: number;
  readonly coefficientRatio: number;
  readonly densitySource: Source;
  readonly microclimateSource: Source;
}

/**
 * K = species x density x microclimate. Density 1 unless the bed says otherwise (guide: 0.5-0.9 sparse, 1.1-1.3 dense);
 * microclimate by sun unless the bed says otherwise (guide: 0.5-0.9 shaded, 1.1-1.4 hot).
 * Source: landscape coefficient guide 2000, ranges from memory.
 */
export function landscapeCoefficient(
  need: PlantNeed,
  sun: Sun,
  bed?: Pick<Bed, 'densityFactor' | 'microclimateFactor'>,
): LandscapeCoefficient {
  const density = bed?.densityFactor ?? null;
  const microclimate = bed?.microclimateFactor ?? null;
  const speciesRatio = plantFactorOf(need);
  const densityRatio = density ?? 1;
  const microclimateRatio = microclimate ?? SUN_FACTOR[sun];
  return {
    speciesRatio,
    densityRatio,
    microclimateRatio,
    coefficientRatio: speciesRatio * densityRatio * microclimateRatio,
    densitySource: density === null ? SOURCES.landscapeCoefficient : SOURCES.user,
    microclimateSource: microclimate === null ? SOURCES.sunFactor : SOURCES.user,
  };
}

/** The coefficient with its factors and their sources. */
export function traceCoefficient(k: LandscapeCoefficient): Traced {
  return {
    code: 'soilwater.landscape-coefficient',
    result: { value: k.coefficientRatio, unit: 'ratio' },
    formula: 'K = species x density x microclimate',
    inputs: [
      {
        name: 'species',
        quantity: { value: k.speciesRatio, unit: 'ratio' },
        from: SOURCES.plantFactor.text,
      },
      {
        name: 'density',
        quantity: { value: k.densityRatio, unit: 'ratio' },
        from: k.densitySource.text,
      },
      {
        name: 'microclimate',
        quantity: { value: k.microclimateRatio, unit: 'ratio' },
        from: k.microclimateSource.text,
      },
    ],
    source: SOURCES.landscapeCoefficient,
  };
}
