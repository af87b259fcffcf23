import {
  HEAD_M_PER_KPA,
  HEAD_M_PER_PSI,
  M3_PER_US_GALLON,
  M3S_PER_GPH,
  M3S_PER_GPM,
  M3S_PER_LPH,
  METRES_PER_FOOT,
  METRES_PER_INCH,
} from './constants';

export type UnitSystem = 'us' | 'metric';

/** Prints SI figures in the chosen system, always with the unit. The same digits on screen, sheet and command line. */
export interface Printer {
  readonly system: UnitSystem;
  /** Feet and inches to the inch ("12'-6\"") or metres to the centimetre ("3.81 m"). */
  readonly length: (m: number) => string;
  /** Feet, inches and sixteenths (`12'-6 1/2"`) or metres to the millimetre: what a field shows, and reads back. */
  readonly fine: (m: number) => string;
  /** Decimal feet ("97.4 ft") or metres ("29.69 m"): tubing and pipe. */
  readonly tubing: (m: number) => string;
  /** Inches to the quarter ("18 in") or millimetres ("457 mm"): spacing, offset, depth. */
  readonly small: (m: number) => string;
  readonly area: (m2: number) => string;
  /** gpm or L/min. */
  readonly flow: (m3s: number) => string;
  /** gph or L/h. */
  readonly emitterFlow: (m3s: number) => string;
  /** psi or kPa, one decimal or none. */
  readonly pressure: (headM: number) => string;
  readonly velocity: (ms: number) => string;
  /** in/h or mm/h. */
  readonly rate: (ms: number) => string;
  /** Depth of water: in or mm. */
  readonly water: (m: number) => string;
  /** gal or m3. */
  readonly volume: (m3: number) => string;
  readonly percent: (ratio: number) => string;
}

const fixed = (value: number, digits: number): string => {
  const text = value.toFixed(digits);
  return /^-0(\.0+)?$/.test(text) ? text.slice(1) : text;
};
const trimmed = (value: number, digits: number): string => {
  const text = fixed(value, digits);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
};

/** Feet and whole inches, rounded once so that 11.99 in never prints as 12 in under a foot. */
export function feetInches(m: number): string {
  const sign = m < 0 ? '-' : '';
  const inches = Math.round(Math.abs(m) / METRES_PER_INCH);
  return `${inches === 0 ? '' : sign}${Math.floor(inches / 12)}'-${inches % 12}"`;
}

/** Feet, inches and the nearest sixteenth in lowest terms: `12'-6 1/2"`. */
export function fineFeetInches(m: number): string {
  const sixteenths = Math.round((Math.abs(m) / METRES_PER_INCH) * 16);
  const sign = m < 0 && sixteenths > 0 ? '-' : '';
  const feet = Math.floor(sixteenths / 192);
  const inches = Math.floor((sixteenths % 192) / 16);
  let top = sixteenths % 16;
  let bottom = 16;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  return `${sign}${feet}'-${inches}${top === 0 ? '' : ` ${top}/${bottom}`}"`;
}

export function printer(system: UnitSystem): Printer {
  if (system === 'us') {
    return {
      system,
      length: feetInches,
      fine: fineFeetInches,
      tubing: (m) => `${fixed(m / METRES_PER_FOOT, 1)} ft`,
      small: (m) => `${trimmed(Math.round((m / METRES_PER_INCH) * 4) / 4, 2)} in`,
      area: (m2) => `${fixed(m2 / METRES_PER_FOOT ** 2, 0)} ft²`,
      flow: (q) => `${fixed(q / M3S_PER_GPM, 2)} gpm`,
      emitterFlow: (q) => `${trimmed(q / M3S_PER_GPH, 2)} gph`,
      pressure: (h) => `${fixed(h / HEAD_M_PER_PSI, 1)} psi`,
      velocity: (v) => `${fixed(v / METRES_PER_FOOT, 1)} ft/s`,
      rate: (v) => `${fixed((v * 3600) / METRES_PER_INCH, 2)} in/h`,
      water: (m) => `${fixed(m / METRES_PER_INCH, 2)} in`,
      volume: (v) => `${fixed(v / M3_PER_US_GALLON, 0)} gal`,
      percent: (r) => `${fixed(r * 100, 0)} %`,
    };
  }
  return {
    system,
    length: (m) => `${fixed(m, 2)} m`,
    fine: (m) => `${fixed(m, 3)} m`,
    tubing: (m) => `${fixed(m, 1)} m`,
    small: (m) => `${fixed(m * 1000, 0)} mm`,
    area: (m2) => `${fixed(m2, 1)} m²`,
    flow: (q) => `${fixed(q * 60_000, 1)} L/min`,
    emitterFlow: (q) => `${trimmed(q / M3S_PER_LPH, 2)} L/h`,
    pressure: (h) => `${fixed(h / HEAD_M_PER_KPA, 0)} kPa`,
    velocity: (v) => `${fixed(v, 2)} m/s`,
    rate: (v) => `${fixed(v * 3_600_000, 1)} mm/h`,
    water: (m) => `${fixed(m * 1000, 0)} mm`,
    volume: (v) => `${fixed(v, 1)} m³`,
    percent: (r) => `${fixed(r * 100, 0)} %`,
  };
}
