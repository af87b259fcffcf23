import {
  M3_PER_US_GALLON,
  type Outcome,
  type Printer,
  readAngle,
  readFlow,
  readLength,
  readPercent,
  readPressure,
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
    case 'number': {
      const value = Number(text);
      return text.trim() !== '' && Number.isFinite(value)
        ? { ok: true, value, problems: [] }
        : {
            ok: false,
            problems: [{ code: 'units.no-number', severity: 'stop', where: {}, params: { text } }],
          };
    }
  }
}

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
