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
