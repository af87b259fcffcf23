import type { Traced } from '../units';
import { SOURCES } from './sources';

/** What one emitter wets: across at the surface and down below it, metres. */
export interface WettedBulb {
  readonly diameterM: number;
  readonly depthM: number;
}

/** Inputs of the wetting models: water given, emitter flow, and the soil when full of water. All > 0. */
export interface WettingInput {
  readonly volumeM3: number;
  readonly flowM3s: number;
  readonly conductivityMs: number;
  readonly porosityRatio: number;
}

/** The answers of two models, and the range between them. */
export interface WettingRange {
  readonly schwartzmanZur: WettedBulb;
  readonly aminEkhmaj: WettedBulb;
  readonly diameterM: { readonly low: number; readonly high: number };
  readonly depthM: { readonly low: number; readonly high: number };
}

/**
 * Wetted diameter and depth of a surface emitter:
 * w = 1.82 V^0.22 (Ks/q)^-0.17 and z = 2.54 V^0.63 (Ks/q)^0.45, SI throughout.
 * Range: fitted to two soils in boxes; poor for a silty clay plain (a field study at 24 sites), never fitted to mulched beds.
 * Source: Schwartzman and Zur 1986, coefficients from memory.
 */
export function wetBySchwartzmanZur(input: WettingInput): WettedBulb {
  const ratio = input.conductivityMs / input.flowM3s;
  return {
    diameterM: 1.82 * input.volumeM3 ** 0.22 * ratio ** -0.17,
    depthM: 2.54 * input.volumeM3 ** 0.63 * ratio ** 0.45,
  };
}

/**
 * Wetted diameter and depth of a surface emitter:
 * R = d^-0.5626 V^0.2686 q^-0.0028 Ks^-0.0344 and Z = d^-0.383 V^0.365 q^-0.101 Ks^0.195 with R, Z in cm, V in cm3,
 * q in cm3/h, Ks in cm/h, and d, the water the soil takes up, half its porosity.
 * Range: hardly feels conductivity or flow, so it says little of very coarse and very fine soils.
 * Source: Amin and Ekhmaj 2006, coefficients from memory.
 */
export function wetByAminEkhmaj(input: WettingInput): WettedBulb {
  const takenUp = input.porosityRatio / 2;
  const volumeCm3 = input.volumeM3 * 1e6;
  const flowCm3h = input.flowM3s * 3600 * 1e6;
  const conductivityCmH = input.conductivityMs * 3600 * 100;
  const radiusCm =
    takenUp ** -0.5626 * volumeCm3 ** 0.2686 * flowCm3h ** -0.0028 * conductivityCmH ** -0.0344;
  const depthCm = takenUp ** -0.383 * volumeCm3 ** 0.365 * flowCm3h ** -0.101 * conductivityCmH ** 0.195;
  return { diameterM: radiusCm / 50, depthM: depthCm / 100 };
}

/** Both models and the range between them. Neither is trusted alone: they differ by half in depth and more in sand and clay. */
export function wettingRange(input: WettingInput): WettingRange {
  const schwartzmanZur = wetBySchwartzmanZur(input);
  const aminEkhmaj = wetByAminEkhmaj(input);
  const span = (a: number, b: number) => ({ low: Math.min(a, b), high: Math.max(a, b) });
  return {
    schwartzmanZur,
    aminEkhmaj,
    diameterM: span(schwartzmanZur.diameterM, aminEkhmaj.diameterM),
    depthM: span(schwartzmanZur.depthM, aminEkhmaj.depthM),
  };
}

/** Both wetted diameters with formula and inputs, for the calculations sheet. */
export function traceWetting(input: WettingInput): readonly Traced[] {
  const inputs: Traced['inputs'] = [
    { name: 'V', quantity: { value: input.volumeM3, unit: 'm3' } },
    { name: 'q', quantity: { value: input.flowM3s, unit: 'm3/s' } },
    {
      name: 'Ks',
      quantity: { value: input.conductivityMs, unit: 'm/s' },
      from: SOURCES.saturatedConductivity.text,
    },
  ];
  const range = wettingRange(input);
  return [
    {
      code: 'soilwater.wetted-diameter-schwartzman-zur',
      result: { value: range.schwartzmanZur.diameterM, unit: 'm' },
      formula: 'w = 1.82 V^0.22 (Ks/q)^-0.17',
      inputs,
      source: SOURCES.schwartzmanZur,
    },
    {
      code: 'soilwater.wetted-diameter-amin-ekhmaj',
      result: { value: range.aminEkhmaj.diameterM, unit: 'm' },
      formula: 'w = 2 (n/2)^-0.5626 V^0.2686 q^-0.0028 Ks^-0.0344, in cm and hours',
      inputs: [
        ...inputs,
        {
          name: 'n',
          quantity: { value: input.porosityRatio, unit: 'ratio' },
          from: SOURCES.saturatedConductivity.text,
        },
      ],
      source: SOURCES.aminEkhmaj,
    },
  ];
}
