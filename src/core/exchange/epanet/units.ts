import { EPANET_CONSTANTS, type HydraulicConstants, STANDARD_CONSTANTS } from '../../hydraulics';
import {
  HEAD_M_PER_BAR,
  HEAD_M_PER_KPA,
  HEAD_M_PER_PSI,
  M3_PER_US_GALLON,
  METRES_PER_FOOT,
  METRES_PER_INCH,
} from '../../units';

/**
 * Which constants a network file is computed with. `epanet`: the rounded factors and formula constants of EPANET itself,
 * so that two solvers stand on equal terms; `own`: exact conversions and the program's own formula constants.
 */
export type ConstantsProfile = 'epanet' | 'own';

/** SI values of one unit of each figure in a file. */
export interface FileUnits {
  readonly flowM3s: number;
  readonly lengthM: number;
  readonly diameterM: number;
  readonly roughnessM: number;
  readonly pressureM: number;
  /** What a pressure-driven demand lets through beyond its full flow, m3/s per m of head over the required. */
  readonly overflowM2s: number;
  readonly constants: HydraulicConstants;
}

/** EPANET bars a pressure-driven demand from exceeding full flow with 1e9 ft per ft3/s. Source: OWA-EPANET src/hydcoeffs.c, read. */
const EPANET_OVERFLOW_M2S = METRES_PER_FOOT ** 3 / 1e9 / METRES_PER_FOOT;
const SECONDS_PER_DAY = 86_400;
const M3_PER_IMPERIAL_GALLON = 4.54609e-3;
const M3_PER_CUBIC_FOOT = METRES_PER_FOOT ** 3;
const M3_PER_ACRE_FOOT = 43_560 * M3_PER_CUBIC_FOOT;

/** Exact m3/s of each flow unit, and how many of it EPANET counts in a cubic foot a second. Source: OWA-EPANET src/types.h, read. */
const FLOW_UNITS: Readonly<Record<string, { exact: number; perCfs: number; isUs: boolean }>> = {
  CFS: { exact: M3_PER_CUBIC_FOOT, perCfs: 1, isUs: true },
  GPM: { exact: M3_PER_US_GALLON / 60, perCfs: 448.831, isUs: true },
  MGD: { exact: (1e6 * M3_PER_US_GALLON) / SECONDS_PER_DAY, perCfs: 0.64632, isUs: true },
  IMGD: { exact: (1e6 * M3_PER_IMPERIAL_GALLON) / SECONDS_PER_DAY, perCfs: 0.5382, isUs: true },
  AFD: { exact: M3_PER_ACRE_FOOT / SECONDS_PER_DAY, perCfs: 1.9837, isUs: true },
  LPS: { exact: 1e-3, perCfs: 28.317, isUs: false },
  LPM: { exact: 1e-3 / 60, perCfs: 1699, isUs: false },
  MLD: { exact: 1e3 / SECONDS_PER_DAY, perCfs: 2.4466, isUs: false },
  CMH: { exact: 1 / 3600, perCfs: 101.94, isUs: false },
  CMD: { exact: 1 / SECONDS_PER_DAY, perCfs: 2446.6, isUs: false },
  CMS: { exact: 1, perCfs: 0.028317, isUs: false },
};

/** EPANET's foot of water is 0.4333 psi, its psi 6.895 kPa and 0.068948 bar. */
const EPANET_PSI_M = METRES_PER_FOOT / 0.4333;
const PRESSURE_UNITS: Readonly<Record<string, { exact: number; epanet: number }>> = {
  PSI: { exact: HEAD_M_PER_PSI, epanet: EPANET_PSI_M },
  KPA: { exact: HEAD_M_PER_KPA, epanet: EPANET_PSI_M / 6.895 },
  BAR: { exact: HEAD_M_PER_BAR, epanet: EPANET_PSI_M / 0.068948 },
  METERS: { exact: 1, epanet: 1 },
  FEET: { exact: METRES_PER_FOOT, epanet: METRES_PER_FOOT },
};

/** Whether a flow unit is known, and whether it puts the file in US units. */
export function flowUnitSystem(unit: string): 'us' | 'si' | null {
  const found = FLOW_UNITS[unit];
  return found === undefined ? null : found.isUs ? 'us' : 'si';
}

/** Whether a pressure unit is known. */
export function isPressureUnit(unit: string): boolean {
  return PRESSURE_UNITS[unit] !== undefined;
}

/** SI values of a file's units. `pressureUnit` null: psi in US units, metres in SI units. */
export function fileUnits(
  flowUnit: string,
  pressureUnit: string | null,
  specificGravity: number,
  profile: ConstantsProfile,
): FileUnits {
  const flow = FLOW_UNITS[flowUnit]!;
  const pressure = PRESSURE_UNITS[pressureUnit ?? (flow.isUs ? 'PSI' : 'METERS')]!;
  const isEpanet = profile === 'epanet';
  return {
    flowM3s: isEpanet ? M3_PER_CUBIC_FOOT / flow.perCfs : flow.exact,
    lengthM: flow.isUs ? METRES_PER_FOOT : 1,
    diameterM: flow.isUs ? METRES_PER_INCH : 1e-3,
    roughnessM: flow.isUs ? METRES_PER_FOOT * 1e-3 : 1e-3,
    pressureM: (isEpanet ? pressure.epanet : pressure.exact) / specificGravity,
    overflowM2s: isEpanet ? EPANET_OVERFLOW_M2S : 0,
    constants: isEpanet ? EPANET_CONSTANTS : STANDARD_CONSTANTS,
  };
}

/** EPANET's water: 1.1e-5 ft2/s, which the Viscosity option multiplies. */
export const EPANET_VISCOSITY_M2S = 1.1e-5 * METRES_PER_FOOT ** 2;
