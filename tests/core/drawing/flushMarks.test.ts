import { expect, test } from 'vitest';
import type { Design } from '../../../src/core/design';
import { type DrawingItem, drawSheetSet } from '../../../src/core/drawing';
import { pointsAlong } from '../../../src/core/geometry';
import { fixtureDesign } from './fixture';

/** The fixture with so many flush valves along its first run, each a join of the layout and a device of the supply. */
function withFlushValves(count: number): Design {
  const design = fixtureDesign();
  const [bed, ...otherBeds] = design.beds;
  const [zone, ...otherZones] = design.supply.zones;
  const run = bed!.layout.runs.find((each) => each.emittersM.length > 0)!;
  const places = pointsAlong(
    run.path,
    Array.from({ length: count }, (_, i) => ((i + 0.5) * run.lengthM) / count),
  ).map(({ at }) => at);
  const joins = places.map((at) => ({ ...at, runIds: [run.id], fitting: 'flush-valve' as const }));
  const valves = places.map((at, i) => ({
    id: `tried-flush-${i + 1}`,
    kind: 'flush-valve' as const,
    at,
    angleRad: 0,
    partId: null,
    zoneId: zone!.id,
  }));
  const isOther = (kind: string): boolean => kind !== 'flush-valve';
  return {
    ...design,
    beds: [{ ...bed!, layout: { ...bed!.layout, joins } }, ...otherBeds],
    supply: {
      ...design.supply,
      devices: design.supply.devices.filter((device) => isOther(device.kind)),
      zones: [
        { ...zone!, flush: [], devices: [...zone!.devices.filter((d) => isOther(d.kind)), ...valves] },
        ...otherZones.map((each) => ({ ...each, devices: each.devices.filter((d) => isOther(d.kind)) })),
      ],
    },
  };
}

const flat = (items: readonly DrawingItem[]): readonly DrawingItem[] =>
  items.flatMap((item) => (item.kind === 'clip' ? flat(item.items) : [item]));

/** What the first plan page says beside each of its flush valves, and all it says. */
function lettered(design: Design): { beside: readonly string[]; all: readonly string[] } {
  const items = flat(drawSheetSet(design, { paper: 'arch-d', include: ['plan'] }).pages[0]!.items);
  const texts = items.flatMap((item) => (item.kind === 'text' ? [item] : []));
  return {
    beside: texts
      .filter((item) => item.group?.startsWith('label:device-tried-flush-'))
      .map((item) => item.text),
    all: texts.map((item) => item.text),
  };
}

test('a few flush valves are named in full, each by its run, before the zone is flushed', () => {
  const { beside, all } = lettered(withFlushValves(3));
  expect(beside).toEqual(Array(3).fill('Flush valve A1, in box'));
  expect(all).toContain('Flush valve in box');
});

test('many flush valves carry their run alone, and the legend says once what that is', () => {
  const { beside, all } = lettered(withFlushValves(12));
  expect(beside).toEqual(Array(12).fill('A1'));
  expect(all.filter((text) => /Flush valve in box/.test(text))).toEqual(['Flush valve in box, of run A1']);
});
