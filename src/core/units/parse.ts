import {
  HEAD_M_PER_BAR,
  HEAD_M_PER_KPA,
  HEAD_M_PER_PSI,
  M3S_PER_GPH,
  M3S_PER_GPM,
  M3S_PER_LPH,
  M3S_PER_LPM,
  M3S_PER_LPS,
  METRES_PER_FOOT,
  METRES_PER_INCH,
} from './constants';
import type { UnitSystem } from './print';
import type { Outcome } from './problem';
import {
  accepted,
  refused,
  scanNumber,
  scanSign,
  scanUnitWord,
  skipSpaces,
  tidyTyped,
  typedProblem,
  type UnitTable,
} from './typed';

const FEET: UnitTable = {
  "'": METRES_PER_FOOT,
  ft: METRES_PER_FOOT,
  foot: METRES_PER_FOOT,
  feet: METRES_PER_FOOT,
};
const INCHES: UnitTable = {
  '"': METRES_PER_INCH,
  in: METRES_PER_INCH,
  inch: METRES_PER_INCH,
  inches: METRES_PER_INCH,
};
const LENGTHS: UnitTable = {
  ...FEET,
  ...INCHES,
  yd: 3 * METRES_PER_FOOT,
  m: 1,
  metre: 1,
  metres: 1,
  meter: 1,
  meters: 1,
  dm: 0.1,
  cm: 0.01,
  mm: 0.001,
};
const FLOWS: UnitTable = {
  gpm: M3S_PER_GPM,
  'gal/min': M3S_PER_GPM,
  gph: M3S_PER_GPH,
  'gal/h': M3S_PER_GPH,
  'l/h': M3S_PER_LPH,
  lph: M3S_PER_LPH,
  'l/min': M3S_PER_LPM,
  lpm: M3S_PER_LPM,
  'l/s': M3S_PER_LPS,
  lps: M3S_PER_LPS,
  'm3/h': 1 / 3600,
  'm³/h': 1 / 3600,
  'm3/s': 1,
};
const PRESSURES: UnitTable = {
  psi: HEAD_M_PER_PSI,
  kpa: HEAD_M_PER_KPA,
  bar: HEAD_M_PER_BAR,
  mbar: HEAD_M_PER_BAR / 1000,
  mpa: 1000 * HEAD_M_PER_KPA,
  m: 1,
  ft: METRES_PER_FOOT,
};
const ANGLES: UnitTable = { deg: Math.PI / 180, degrees: Math.PI / 180, rad: 1 };
const RATIOS: UnitTable = { '%': 0.01, percent: 0.01 };
const VELOCITIES: UnitTable = { 'ft/s': METRES_PER_FOOT, 'm/s': 1 };
const RATES: UnitTable = {
  'in/h': METRES_PER_INCH / 3600,
  'in/hr': METRES_PER_INCH / 3600,
  'mm/h': 0.001 / 3600,
  'mm/hr': 0.001 / 3600,
};

/** What a number typed without a unit means: a unit word of the measure. */
export interface Typed {
  readonly system: UnitSystem;
  readonly bareUnit?: string;
}

/** A length laid off in a direction: `angleRad` anticlockwise from east. */
export interface LengthAndDirection {
  readonly lengthM: number;
  readonly angleRad: number;
}

interface Measure {
  readonly table: UnitTable;
  readonly bare: Readonly<Record<UnitSystem, string>>;
}

function readFigure(text: string, typed: Typed, measure: Measure): Outcome<number> {
  const tidy = tidyTyped(text);
  if (!tidy.ok) return tidy;
  const sign = scanSign(tidy.value, 0);
  const number = scanNumber(tidy.value, sign.end);
  if (!number.ok) return number;
  const unit = scanUnitWord(tidy.value, number.value.end);
  const word = unit.word === '' ? (typed.bareUnit ?? measure.bare[typed.system]) : unit.word;
  const factor = Object.hasOwn(measure.table, word) ? measure.table[word] : undefined;
  if (factor === undefined) {
    return refused(
      typedProblem('unknown-unit', tidy.value, number.value.end, {
        word,
        accepted: Object.keys(measure.table),
      }),
    );
  }
  const end = skipSpaces(tidy.value, unit.end);
  if (end < tidy.value.length) return refused(typedProblem('left-over', tidy.value, end));
  return settle(sign.value * number.value.value * factor, tidy.value);
}

function settle(value: number, text: string): Outcome<number> {
  // A negative zero would print as "-0".
  return Number.isFinite(value) ? accepted(value + 0) : refused(typedProblem('too-large', text, 0));
}

/**
 * Reads a length typed by a person, in metres: `12'6`, `12'-6"`, `12' 6-1/2"`, `3.81 m`, `150 in`, `12.5`.
 * A bare number is feet (US) or metres, unless `bareUnit` says otherwise ("in" or "mm" for spacings).
 * Fails with the place: no number, unknown unit, inches of twelve or more after feet, a comma that could be thousands.
 */
export function readLength(text: string, typed: Typed): Outcome<number> {
  const tidy = tidyTyped(text);
  if (!tidy.ok) return tidy;
  const end = { at: 0 };
  const length = scanLength(tidy.value, 0, typed, end);
  if (!length.ok) return length;
  return end.at < tidy.value.length ? refused(typedProblem('left-over', tidy.value, end.at)) : length;
}

function scanLength(text: string, from: number, typed: Typed, end: { at: number }): Outcome<number> {
  const sign = scanSign(text, from);
  const number = scanNumber(text, sign.end);
  if (!number.ok) return number;
  const unit = scanUnitWord(text, number.value.end);
  const isBare = unit.word === '' || unit.word === 'at' || /^[ns]$/.test(unit.word);
  const word = isBare ? (typed.bareUnit ?? (typed.system === 'us' ? 'ft' : 'm')) : unit.word;
  const factor = Object.hasOwn(LENGTHS, word) ? LENGTHS[word] : undefined;
  if (factor === undefined) {
    return refused(
      typedProblem('unknown-unit', text, number.value.end, { word, accepted: Object.keys(LENGTHS) }),
    );
  }
  end.at = skipSpaces(text, isBare ? number.value.end : unit.end);
  const main = number.value.value * factor;
  if (isBare || !Object.hasOwn(FEET, word)) return settle(sign.value * main, text);
  const inches = scanInchesAfterFeet(text, end);
  return inches.ok ? settle(sign.value * (main + inches.value), text) : inches;
}

/** The inches of `12'-6"`: a dash or a space between, the inch mark optional. Zero where no number follows. */
function scanInchesAfterFeet(text: string, end: { at: number }): Outcome<number> {
  const at = text[end.at] === '-' ? skipSpaces(text, end.at + 1) : end.at;
  if (!/[\d.,]/.test(text[at] ?? '')) return accepted(0);
  const number = scanNumber(text, at);
  if (!number.ok) return number;
  const unit = scanUnitWord(text, number.value.end);
  const isInchMark = Object.hasOwn(INCHES, unit.word);
  if (!isInchMark && unit.word !== '' && unit.word !== 'at' && !/^[ns]$/.test(unit.word)) {
    return refused(
      typedProblem('unknown-unit', text, number.value.end, {
        word: unit.word,
        accepted: Object.keys(INCHES),
      }),
    );
  }
  if (number.value.value >= 12) return refused(typedProblem('inches-over-a-foot', text, at));
  end.at = skipSpaces(text, isInchMark ? unit.end : number.value.end);
  return accepted(number.value.value * METRES_PER_INCH);
}

const QUADRANT_BEARING = /^([ns])\s*([\d.,]+)\s*(?:deg)?\s*([ew])$/i;

/**
 * Reads a length laid off in a direction: `12'-6" at 30` (degrees anticlockwise from east), or with a surveyor's
 * quadrant bearing as deeds write it, `12'-6" N 30 E`.
 * Fails like `readLength`, and where the direction is missing, or a bearing is over 90 degrees.
 */
export function readLengthAndDirection(text: string, typed: Typed): Outcome<LengthAndDirection> {
  const tidy = tidyTyped(text);
  if (!tidy.ok) return tidy;
  const end = { at: 0 };
  const length = scanLength(tidy.value, 0, typed, end);
  if (!length.ok) return length;
  const rest = tidy.value.slice(end.at);
  const angle = /^at\b/i.test(rest)
    ? readAngle(rest.slice(2), { ...typed, bareUnit: 'deg' })
    : readQuadrantBearing(rest.trim(), tidy.value, end.at);
  return angle.ok ? accepted({ lengthM: length.value, angleRad: angle.value }) : angle;
}

function readQuadrantBearing(rest: string, text: string, at: number): Outcome<number> {
  const parts = QUADRANT_BEARING.exec(rest);
  if (!parts) return refused(typedProblem('no-direction', text, at));
  const turn = scanNumber(parts[2]!, 0);
  if (!turn.ok) return turn;
  if (turn.value.end < parts[2]!.length || turn.value.value > 90) {
    return refused(typedProblem('bearing-over-a-quarter', text, at));
  }
  const turnRad = (turn.value.value * Math.PI) / 180;
  const eastward = parts[3]!.toLowerCase() === 'e' ? 1 : -1;
  const northward = parts[1]!.toLowerCase() === 'n' ? 1 : -1;
  return accepted(Math.atan2(northward * Math.cos(turnRad), eastward * Math.sin(turnRad)));
}

/** Reads a flow in m3/s: gph, gpm, L/h, L/min, L/s, m3/h. A bare number is gpm (US) or L/min. */
export function readFlow(text: string, typed: Typed): Outcome<number> {
  return readFigure(text, typed, { table: FLOWS, bare: { us: 'gpm', metric: 'l/min' } });
}

/** Reads a pressure as metres of head: psi, kPa, bar, mbar, MPa, m or ft of water. A bare number is psi (US) or kPa. */
export function readPressure(text: string, typed: Typed): Outcome<number> {
  return readFigure(text, typed, { table: PRESSURES, bare: { us: 'psi', metric: 'kpa' } });
}

/** Reads an angle in radians: degrees unless "rad" is said. */
export function readAngle(text: string, typed: Typed): Outcome<number> {
  return readFigure(text, typed, { table: ANGLES, bare: { us: 'deg', metric: 'deg' } });
}

/** Reads a share as a ratio: percent, with or without its sign. */
export function readPercent(text: string, typed: Typed): Outcome<number> {
  return readFigure(text, typed, { table: RATIOS, bare: { us: '%', metric: '%' } });
}

/** Reads an application rate in m/s: in/h or mm/h. A bare number is in/h (US) or mm/h. */
export function readRate(text: string, typed: Typed): Outcome<number> {
  return readFigure(text, typed, { table: RATES, bare: { us: 'in/h', metric: 'mm/h' } });
}

/** Reads the speed of water in a pipe in m/s: ft/s or m/s. A bare number is ft/s (US) or m/s. */
export function readVelocity(text: string, typed: Typed): Outcome<number> {
  return readFigure(text, typed, { table: VELOCITIES, bare: { us: 'ft/s', metric: 'm/s' } });
}
