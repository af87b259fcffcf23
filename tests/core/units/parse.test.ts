import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  printer,
  readAngle,
  readFlow,
  readLength,
  readLengthAndDirection,
  readPercent,
  readPressure,
  readRate,
  readVelocity,
  type UnitSystem,
} from '../../../src/core/units';
import { unitsSentences } from '../../../src/core/words/units';

const us = { system: 'us' } as const;
const metric = { system: 'metric' } as const;

// Expected metres by hand from the definition of the inch, 25.4 mm: 12 ft 6 in = 150 in = 3.81 m; 150.5 in = 3.8227 m.
const LENGTHS: readonly (readonly [string, UnitSystem, number])[] = [
  [`12'6`, 'us', 3.81],
  [`12'-6"`, 'us', 3.81],
  [`12' 6-1/2"`, 'us', 3.8227],
  [`12'-6 1/2"`, 'us', 3.8227],
  ['12′-6½″', 'us', 3.8227],
  ['12 ft 6 in', 'us', 3.81],
  ['3.81 m', 'us', 3.81],
  ['150 in', 'us', 3.81],
  ['12.5', 'us', 3.81],
  ['12.5', 'metric', 12.5],
  ['12,5', 'metric', 12.5],
  [`12'`, 'metric', 3.6576],
  ['3/4"', 'us', 0.01905],
  [`-0'-6"`, 'us', -0.1524],
  ['381 cm', 'metric', 3.81],
  ['  3810mm ', 'us', 3.81],
];

const REFUSALS: readonly (readonly [string, string, number])[] = [
  ['', 'units.empty', 1],
  ['   ', 'units.empty', 1],
  ['fence', 'units.no-number', 1],
  [`12'-14"`, 'units.inches-over-a-foot', 5],
  ['12 furlongs', 'units.unknown-unit', 3],
  ['12 6', 'units.left-over', 4],
  [`12'-6" or so`, 'units.left-over', 8],
  ['1/0"', 'units.zero-denominator', 1],
  ['1,250', 'units.ambiguous-comma', 1],
  ['1e999', 'units.unknown-unit', 2],
  ['constructor', 'units.no-number', 1],
  ['12 constructor', 'units.unknown-unit', 3],
  ['9'.repeat(500), 'units.too-long', 81],
];

describe('a typed length', () => {
  it.each(LENGTHS)('%s (%s) is %d m', (text, system, expected) => {
    const read = readLength(text, { system });
    expect(read).toMatchObject({ ok: true });
    expect(read.ok && read.value).toBeCloseTo(expected, 12);
  });

  it.each(REFUSALS)('%s is refused by name and place', (text, code, column) => {
    const read = readLength(text, us);
    expect(read.ok).toBe(false);
    expect(read.problems[0]).toMatchObject({ code, where: { column } });
    const sentence = unitsSentences[code]!(read.problems[0]!.params, printer('us'));
    expect(Object.values(sentence).every((part) => part.length > 10)).toBe(true);
  });

  it('takes a bare number as inches where the field is a spacing', () => {
    const read = readLength('18', { system: 'us', bareUnit: 'in' });
    expect(read.ok && read.value).toBeCloseTo(0.4572, 12);
  });
});

describe('a length laid off in a direction', () => {
  it.each([
    [`12'-6" at 30`, 3.81, Math.PI / 6],
    ['12.5 at 30°', 3.81, Math.PI / 6],
    ['12.5 N 30 E', 3.81, Math.PI / 3],
    [`12'6 S45W`, 3.81, (-3 * Math.PI) / 4],
    ['10 m at -90', 10, -Math.PI / 2],
  ])('%s', (text, lengthM, angleRad) => {
    const read = readLengthAndDirection(text, us);
    expect(read.ok && read.value.lengthM).toBeCloseTo(lengthM, 12);
    expect(read.ok && read.value.angleRad).toBeCloseTo(angleRad, 12);
  });

  it.each([
    ['12.5', 'units.no-direction'],
    ['12.5 N 100 E', 'units.bearing-over-a-quarter'],
    ['12.5 at', 'units.empty'],
    ['12.5 at noon', 'units.no-number'],
  ])('%s is refused', (text, code) => {
    expect(readLengthAndDirection(text, us).problems[0]?.code).toBe(code);
  });
});

describe('other typed figures', () => {
  // US gallon 3.785411784 L (231 in3); 1 psi = 6894.757293 Pa; head at 1000 kg/m3 and 9.80665 m/s2. Computed by hand.
  it.each([
    ['0.4 gph', (3.785411784e-3 * 0.4) / 3600],
    ['4.4 gpm', (3.785411784e-3 * 4.4) / 60],
    ['1.6 L/h', 1.6e-3 / 3600],
    ['12 l / min', 12e-3 / 60],
    ['0.3 L/s', 0.3e-3],
    ['2 m³/h', 2 / 3600],
  ])('flow %s', (text, expected) => {
    const read = readFlow(text, us);
    expect(read.ok && read.value).toBeCloseTo(expected, 14);
  });

  it.each([
    ['45 psi', 31.638],
    ['310 kPa', 31.611],
    ['3.1 bar', 31.611],
    ['10 m', 10],
  ])('pressure %s', (text, expected) => {
    const read = readPressure(text, us);
    expect(read.ok && read.value).toBeCloseTo(expected, 3);
  });

  it('takes bare figures in the units of the chosen system', () => {
    expect(readPressure('100', metric)).toEqual(readPressure('1 bar', us));
    expect(readFlow('60', metric)).toEqual(readFlow('1 l/s', us));
    expect(readPercent('15', us)).toEqual(readPercent('15 %', metric));
    expect(readAngle('180', us)).toMatchObject({ ok: true, value: Math.PI });
    const rate = readRate('36 mm/h', us);
    expect(rate.ok && rate.value).toBeCloseTo(1e-5, 15);
  });
});

describe('what is printed reads back', () => {
  const metres = fc.double({ min: -2000, max: 2000, noNaN: true });

  it.each(['us', 'metric'] as const)('a fine length in %s comes back within half its step', (system) => {
    const halfStepM = system === 'us' ? 0.0254 / 32 : 0.0005;
    fc.assert(
      fc.property(metres, (m) => {
        const read = readLength(printer(system).fine(m), { system });
        return read.ok && Math.abs(read.value - m) <= halfStepM + 1e-9;
      }),
    );
  });

  it.each(['us', 'metric'] as const)(
    'printing what was read from print gives the same text in %s',
    (system) => {
      const print = printer(system);
      const same = (text: string, read: { ok: boolean; value?: number }, again: (v: number) => string) =>
        read.ok && again(read.value!) === text;
      fc.assert(
        fc.property(fc.double({ min: 0, max: 900, noNaN: true }), (value) => {
          const length = print.length(value);
          const tubing = print.tubing(value);
          const flow = print.flow(value / 1e5);
          const emitter = print.emitterFlow(value / 1e8);
          const pressure = print.pressure(value);
          return (
            same(length, readLength(length, { system }), print.length) &&
            same(tubing, readLength(tubing, { system }), print.tubing) &&
            same(flow, readFlow(flow, { system }), print.flow) &&
            same(emitter, readFlow(emitter, { system }), print.emitterFlow) &&
            same(pressure, readPressure(pressure, { system }), print.pressure)
          );
        }),
      );
    },
  );
});

// Every unit word and its worth in SI, by definition: inch 25.4 mm, US gallon 231 in3, pound 0.45359237 kg, g 9.80665 m/s2,
// water of 1000 kg/m3, so that 1 kPa is 1000 / 9806.65 m of head. Written out here, not taken from the code.
const IN = 0.0254;
const GAL = 231 * IN ** 3;
const KPA = 1000 / 9806.65;
const PSI = 0.45359237 / IN ** 2 / 1000;
type Read = typeof readLength;
const UNITS: readonly (readonly [read: Read, measure: string, words: Readonly<Record<string, number>>])[] = [
  [
    readLength,
    'length',
    {
      "'": 12 * IN,
      ft: 12 * IN,
      foot: 12 * IN,
      feet: 12 * IN,
      '"': IN,
      in: IN,
      inch: IN,
      inches: IN,
      yd: 36 * IN,
      m: 1,
      metre: 1,
      metres: 1,
      meter: 1,
      meters: 1,
      dm: 0.1,
      cm: 0.01,
      mm: 0.001,
    },
  ],
  [
    readFlow,
    'flow',
    {
      gpm: GAL / 60,
      'gal/min': GAL / 60,
      gph: GAL / 3600,
      'gal/h': GAL / 3600,
      'L/h': 1e-3 / 3600,
      lph: 1e-3 / 3600,
      'L/min': 1e-3 / 60,
      lpm: 1e-3 / 60,
      'L/s': 1e-3,
      lps: 1e-3,
      'm3/h': 1 / 3600,
      'm³/h': 1 / 3600,
      'm3/s': 1,
    },
  ],
  [
    readPressure,
    'pressure',
    { psi: PSI, kPa: KPA, bar: 100 * KPA, mbar: 0.1 * KPA, MPa: 1000 * KPA, m: 1, ft: 12 * IN },
  ],
  [readAngle, 'angle', { deg: Math.PI / 180, degrees: Math.PI / 180, '°': Math.PI / 180, rad: 1 }],
  [readPercent, 'share', { '%': 0.01, percent: 0.01 }],
  [readVelocity, 'speed', { 'ft/s': 12 * IN, 'm/s': 1 }],
  [readRate, 'rate', { 'in/h': IN / 3600, 'in/hr': IN / 3600, 'mm/h': 1e-3 / 3600, 'mm/hr': 1e-3 / 3600 }],
];

describe('every unit word there is', () => {
  it.each(UNITS)(
    '%# of a %s: any figure in it is that figure times its worth, and comes back divided by it',
    (read, _, words) => {
      for (const [word, worth] of Object.entries(words))
        fc.assert(
          fc.property(fc.integer({ min: -99999, max: 99999 }), (hundredths) => {
            const text = `${(hundredths / 100).toFixed(2)} ${word}`;
            const typed = read(text, us);
            expect(typed.ok, text).toBe(true);
            expect((typed.ok ? typed.value : Number.NaN) / worth).toBeCloseTo(hundredths / 100, 9);
          }),
          { numRuns: 20 },
        );
    },
  );

  it.each(UNITS)('%# of a %s: none is left out above, by what a refusal offers', (read, _, words) => {
    const refused = read('1 furlongs', us);
    const offered = (refused.problems[0]?.params.accepted ?? []) as readonly string[];
    expect(offered.length).toBeGreaterThan(1);
    const held = Object.keys(words).map((word) => word.toLowerCase());
    expect(offered.filter((word) => !held.includes(word))).toEqual([]);
  });

  it.each(['us', 'metric'] as const)(
    'small lengths, rates and shares print and read back to the same print in %s',
    (system) => {
      const print = printer(system);
      fc.assert(
        fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (value) => {
          const back = (text: string, read: Read, again: (v: number) => string) => {
            const typed = read(text, { system });
            expect(typed.ok && again(typed.value), text).toBe(text);
          };
          back(print.small(value), readLength, print.small);
          back(print.water(value), readLength, print.water);
          back(print.rate(value / 1e4), readRate, print.rate);
          back(print.percent(value), readPercent, print.percent);
        }),
      );
    },
  );
});
