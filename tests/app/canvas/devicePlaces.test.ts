import { describe, expect, it } from 'vitest';
import { devicePlaces } from '../../../src/app/canvas/paint/devicePlaces';
import type { Design } from '../../../src/core/design';
import type { Device } from '../../../src/core/supply';

const device = (id: string, kind: Device['kind'], x: number, y = 0): Device => ({
  id,
  kind,
  at: { x, y },
  angleRad: 0,
  partId: null,
  zoneId: null,
});
const SIZE_M = 0.5;

function placed(devices: readonly Device[], stubUps: readonly { x: number; y: number }[] = []) {
  const design = {
    supply: { devices, zones: [] },
    beds: stubUps.map((stubUp) => ({ layout: { status: 'routed', stubUp } })),
  } as unknown as Design;
  // A pipe along y = 0, as a person would see it.
  return devicePlaces(design, SIZE_M, ({ minY, maxY }) => (minY <= 0 && maxY >= 0 ? 1 : 0));
}
const touches = (a: { x: number; y: number }, b: { x: number; y: number }): boolean =>
  Math.max(Math.abs(a.x - b.x), Math.abs(a.y - b.y)) < SIZE_M;

describe('symbols of devices that lie close together', () => {
  it('keep apart: the lesser steps aside, off the pipe, and the greater stays', () => {
    const places = placed([
      device('c', 'connection', 0),
      device('s', 'shut-off', 0.3),
      device('b', 'backflow', 0.9),
      device('d', 'drain-point', 0.9),
      device('a', 'valve-assembly', 1.2),
    ]);
    const of = (id: string) => places.find((one) => one.device.id === id)!;
    expect(of('a')).toMatchObject({ at: { x: 1.2, y: 0 }, isAside: false });
    expect(['s', 'b', 'd'].map((id) => of(id).isAside)).toEqual([true, true, true]);
    for (const id of ['s', 'b', 'd']) expect(Math.abs(of(id).at.y)).toBeGreaterThan(SIZE_M / 2);
    const all = [{ x: 0, y: 0 }, ...places.map(({ at }) => at)];
    for (const [index, one] of all.entries())
      for (const other of all.slice(index + 1)) expect(touches(one, other)).toBe(false);
  });

  it('keep off a stub-up, and where nothing is near stay in their true places', () => {
    const places = placed(
      [device('r', 'air-relief', 5), device('f', 'flush-valve', 9), device('k', 'check-valve', 9)],
      [{ x: 5, y: 0 }],
    );
    expect(places.map(({ device: { id }, isAside }) => [id, isAside])).toEqual([
      ['f', false],
      ['r', true],
    ]);
    expect(touches(places[1]!.at, { x: 5, y: 0 })).toBe(false);
  });

  it('stay where they are in a throng that leaves no clear step: a place far off would mislead', () => {
    const throng = Array.from({ length: 400 }, (_, index) =>
      device(
        `f${String(index).padStart(3, '0')}`,
        'flush-valve',
        (index % 20) * 0.2,
        Math.floor(index / 20) * 0.2,
      ),
    );
    const places = placed(throng);
    for (const {
      device: { at: own },
      at,
    } of places)
      expect(Math.hypot(at.x - own.x, at.y - own.y)).toBeLessThan(3 * SIZE_M);
    expect(places.filter(({ isAside }) => !isAside).length).toBeGreaterThan(100);
  });
});
