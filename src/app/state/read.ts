import {
  M3_PER_US_GALLON,
  METRES_PER_FOOT,
  type Outcome,
  type Printer,
  readAngle,
  readFlow,
  readLength,
  readPercent,
  readPressure,
  readRate,
  readVelocity,
} from '../../core/units';

/** What a field measures; it decides how a figure is read and printed. */
export type Measure =
  | 'length'
  | 'spacing'
  | 'pressure'
  | 'flow'
  | 'emitter-flow'
  | 'angle'
  | 'share'
  | 'number'
  | 'velocity'
  | 'rate'
  | 'temperature'
  | 'hours'
  | 'hours-along'
  | 'water';

/** Reads a typed figure into SI. */
export function readMeasure(measure: Measure, text: string, system: Printer['system']): Outcome<number> {
  switch (measure) {
    case 'length':
      return readLength(text, { system });
    case 'spacing':
    case 'water':
      return readLength(text, { system, bareUnit: system === 'us' ? 'in' : 'mm' });
    case 'pressure':
      return readPressure(text, { system });
    case 'flow':
      return readFlow(text, { system });
    case 'emitter-flow':
      return readFlow(text, { system, bareUnit: system === 'us' ? 'gph' : 'l/h' });
    case 'angle':
      return readAngle(text, { system });
    case 'share':
      return readPercent(text, { system });
    case 'velocity':
      return readVelocity(text, { system });
    case 'rate':
      return readRate(text, { system });
    case 'temperature':
      return scaled(readNumber(text.replace(/\s*°?\s*[CF]?$/i, '')), (degrees) =>
        kelvinOf(degrees, systemOf(text, /F$/i, /C$/i, system)),
      );
    case 'hours':
      return readNumber(withoutHours(text));
    case 'hours-along':
      return scaled(
        readNumber(withoutHours(text)),
        (hours) => hours / stretchM(systemOf(text, /ft$/i, /100 m$/i, system)),
      );
    case 'number':
      return readNumber(text);
  }
}

function readNumber(text: string): Outcome<number> {
  const value = Number(text);
  return text.trim() !== '' && Number.isFinite(value)
    ? { ok: true, value, problems: [] }
    : {
        ok: false,
        problems: [{ code: 'units.no-number', severity: 'stop', where: {}, params: { text } }],
      };
}

const scaled = (read: Outcome<number>, toSi: (value: number) => number): Outcome<number> =>
  read.ok ? { ...read, value: toSi(read.value) } : read;

/** The system that a figure's own unit is of, where it has one: what is written outranks what is usual. */
const systemOf = (text: string, us: RegExp, metric: RegExp, usual: Printer['system']): Printer['system'] =>
  us.test(text.trim()) ? 'us' : metric.test(text.trim()) ? 'metric' : usual;

/** The unit a figure of hours is printed with may be written, or left out. */
const withoutHours = (text: string): string => text.replace(/\s*h(\/100 (ft|m))?\s*$/i, '');

const FREEZING_K = 273.15;
const kelvinOf = (degrees: number, system: Printer['system']): number =>
  (system === 'us' ? ((degrees - 32) * 5) / 9 : degrees) + FREEZING_K;
const degreesOf = (kelvin: number, system: Printer['system']): number =>
  system === 'us' ? ((kelvin - FREEZING_K) * 9) / 5 + 32 : kelvin - FREEZING_K;

/** Crews reckon work along a trench by the hundred feet or metres. */
const stretchM = (system: Printer['system']): number => 100 * (system === 'us' ? METRES_PER_FOOT : 1);
const short = (value: number): string => String(Number(value.toPrecision(3)));

/** Prints an SI figure as its field shows it. */
export function printMeasure(measure: Measure, value: number, print: Printer): string {
  switch (measure) {
    case 'length':
      return print.length(value);
    case 'spacing':
      return print.small(value);
    case 'water':
      return print.water(value);
    case 'pressure':
      return print.pressure(value);
    case 'flow':
      return print.flow(value);
    case 'emitter-flow':
      return print.emitterFlow(value);
    case 'angle':
      return `${Math.round((value * 180) / Math.PI)}°`;
    case 'share':
      return print.percent(value);
    case 'velocity':
      return print.velocity(value);
    case 'rate':
      return print.rate(value);
    case 'temperature':
      return `${short(degreesOf(value, print.system))} °${print.system === 'us' ? 'F' : 'C'}`;
    case 'hours-along':
      return `${short(value * stretchM(print.system))} h/100 ${print.system === 'us' ? 'ft' : 'm'}`;
    case 'hours':
      return `${short(value)} h`;
    case 'number':
      return String(value);
  }
}

/** Figures of water lean, figures of ground stand. */
export const isWaterMeasure = (measure: Measure): boolean =>
  measure === 'pressure' || measure === 'flow' || measure === 'emitter-flow' || measure === 'water';

/** The volume a bucket or a dial is marked in: a gallon or a litre. */
export const volumeUnitM3 = (system: Printer['system']): number =>
  system === 'us' ? M3_PER_US_GALLON : 0.001;
