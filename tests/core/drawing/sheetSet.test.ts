import { expect, test } from 'vitest';
import {
  type DrawingItem,
  type DrawingPage,
  drawCalculations,
  drawSheetSet,
} from '../../../src/core/drawing';
import { curvedDesign, fixtureDesign } from './fixture';

const texts = (items: readonly DrawingItem[]): string[] =>
  items.flatMap((item) =>
    item.kind === 'text' ? [item.text] : item.kind === 'clip' ? texts(item.items) : [],
  );
const pageText = (page: DrawingPage): string => texts(page.items).join('\n');
const design = fixtureDesign();

test('a plan too large for its paper at the wanted scale is tiled, each match line naming a sheet that names it back', () => {
  const set = drawSheetSet(design, { paper: 'letter', scaleDenominator: 48, include: ['plan'] });
  expect(set.pages.length).toBeGreaterThan(2);
  const named = set.pages.map((page) =>
    texts(page.items).flatMap((t) => /^Match line: goes on on sheet (\d+)$/.exec(t)?.[1] ?? []),
  );
  named.forEach((others, i) => {
    expect(others.length, `sheet ${i + 1}`).toBeGreaterThan(0);
    for (const other of others) expect(named[Number(other) - 1]).toContain(String(i + 1));
  });
  for (const page of set.pages) expect(pageText(page)).toContain('Where this sheet lies');
});

test('a sheet with a stop finding says across its face that it is not for construction, and a clear one does not', () => {
  const stopped = {
    ...design,
    findings: [{ code: 'review.x', severity: 'stop' as const, where: {}, params: {} }],
  };
  for (const page of drawSheetSet(stopped).pages) expect(pageText(page)).toContain('NOT FOR CONSTRUCTION');
  for (const page of drawSheetSet(design).pages) expect(pageText(page)).not.toContain('NOT FOR CONSTRUCTION');
});

test('the legend lists what the plan holds and nothing else', () => {
  const first = pageText(drawSheetSet(design, { paper: 'arch-c' }).pages[0]!);
  for (const shown of ['Foundation', 'Boulder', 'Main, core: always full', 'Sleeve under paving'])
    expect(first).toContain(shown);
  for (const absent of ['Fence', 'Root ball', 'Control wire', 'Match line', 'Splice'])
    expect(first).not.toContain(absent);
});

test('every run of the design stands in the run table with its length and emitters', () => {
  const all = drawSheetSet(design).pages.map(pageText).join('\n');
  for (const bed of design.beds)
    for (const run of bed.layout.runs) {
      expect(all).toContain(`${(run.lengthM / 0.3048).toFixed(1)} ft`);
      expect(all).toContain(String(run.emittersM.length));
    }
});

test('a set in metres says metres, kilopascals and litres, and no feet', () => {
  const metric = fixtureDesign((plan) => ({ ...plan, display: { ...plan.display, units: 'metric' } }));
  const first = pageText(drawSheetSet(metric).pages[0]!);
  expect(first).toContain('m, L/min, kPa');
  expect(first).not.toMatch(/\d ft\b|\d psi\b|\d gpm\b/);
});

test('no page of a set in metres says a length or a pressure in feet or psi, but in names of sizes', () => {
  const curved = curvedDesign();
  const metric = {
    ...curved,
    plan: { ...curved.plan, display: { ...curved.plan.display, units: 'metric' as const } },
  };
  const said = drawSheetSet(metric).pages.flatMap((page) => texts(page.items));
  for (const text of said) expect(text).not.toMatch(/\d (ft|psi|gpm|gal)\b/);
  const notes = said.join(' ');
  // 6 in, 2 ft, 1 ft and 2 psi by hand: 152.4 mm, 609.6 mm, 304.8 mm, 13.8 kPa.
  for (const part of [
    'up to 152 mm round',
    '610 mm or more from any tee',
    'keep 305 mm more',
    'differ by 14 kPa',
  ])
    expect(notes).toContain(part);
});

test('a plan with nothing drawn still gives a set that can be printed', () => {
  const bare = {
    ...design,
    beds: [],
    supply: { ...design.supply, zones: [], main: [], sleeves: [], devices: [], wires: [] },
    plan: { ...design.plan, structures: {}, trees: {}, sources: {} },
  };
  expect(drawSheetSet(bare).pages.length).toBeGreaterThan(1);
});

test('the calculations print every traced figure with its formula, inputs and source', () => {
  const trace = {
    code: 'supply.required-source-head',
    result: { value: 31, unit: 'm of head' as const },
    formula: 'needed = emitter head + losses + rise',
    inputs: [{ name: 'losses', quantity: { value: 10, unit: 'm of head' as const }, from: 'zone 1' }],
    source: { text: 'Bernoulli', standing: 'published' as const },
  };
  const all = drawCalculations({ ...design, traces: [trace] })
    .pages.map(pageText)
    .join('\n');
  expect(all).toContain('needed = emitter head + losses + rise');
  // 10 m of head x 9.80665 kPa / 6.894757 kPa a psi = 14.2 psi, by hand.
  expect(all).toContain('losses 14.2 psi (zone 1)');
  expect(all).toContain('Source: Bernoulli');
  expect(all).toContain("Checker's statement");
});

test('drawing tells of every page once, of a tiled plan page by page', () => {
  const told: number[] = [];
  const set = drawSheetSet(design, {
    paper: 'letter',
    scaleDenominator: 48,
    onPage: (done) => told.push(done),
  });
  expect(told).toEqual(set.pages.map((_, i) => i + 1));
});

test('of many flush valves of a zone the crew reads the one of least and the one of greatest pressure before mulch', () => {
  const [zone] = design.supply.zones;
  const runId = zone!.emitters.runIds[0]!;
  const own = zone!.emitters.headM.filter((_, i) => zone!.emitters.runIds[zone!.emitters.run[i]!] === runId);
  const distancesM = Array.from(zone!.emitters.distanceM).filter(
    (_, i) => zone!.emitters.runIds[zone!.emitters.run[i]!] === runId,
  );
  const flushOf = (count: number) =>
    distancesM.slice(0, count).map((distanceM) => ({ ...zone!.flush[0]!, runId, distanceM }));
  const readAt = (count: number): readonly string[] => {
    const many = {
      ...design,
      supply: {
        ...design.supply,
        zones: [{ ...zone!, flush: flushOf(count) }, ...design.supply.zones.slice(1)],
      },
    };
    const all = texts(drawSheetSet(many, { paper: 'arch-c' }).pages[0]!.items);
    const from = all.indexOf('Read and write down, before mulch');
    const to = all.indexOf('Meter, V1 alone');
    return all
      .slice(from, to)
      .flatMap((text, i, list) => (text.startsWith('Flush valve ') ? [list[i + 1]!] : []));
  };
  // 6894.757 Pa in a psi, 9806.65 Pa in a metre of water.
  const psi = (headM: number): string => `${((headM * 9806.65) / 6894.757293).toFixed(1)} psi`;
  const heads = own.slice(0, 9);
  expect(readAt(5)).toHaveLength(5);
  expect(readAt(9)).toEqual([psi(Math.min(...heads)), psi(Math.max(...heads))]);
});

test('the zone table gives the ground of each valve, in sum the area of all beds, and how fast it waters', () => {
  const all = texts(drawSheetSet(design, { paper: 'arch-c' }).pages[0]!.items);
  const from = all.indexOf('Zones');
  const table = all.slice(from, all.indexOf('Read and write down, before mulch'));
  const areas = table.flatMap((text) => /^(\d+) ft²$/.exec(text)?.[1] ?? []).map(Number);
  expect(areas).toHaveLength(design.supply.zones.length);
  const bedsFt2 = design.beds.reduce((sum, bed) => sum + bed.layout.areaM2 / 0.3048 ** 2, 0);
  // Each figure is rounded to a whole square foot.
  expect(Math.abs(areas.reduce((sum, area) => sum + area, 0) - bedsFt2)).toBeLessThanOrEqual(
    areas.length / 2,
  );
  expect(table.filter((text) => /^[\d.]+ in\/h$/.test(text))).toHaveLength(design.schedule.zones.length);
});

test('prices of the parts file stand beside what is bought, with their sum; without prices no word is said of them', () => {
  const counted = curvedDesign();
  const [first, second, ...others] = counted.takeoff.lines;
  const priced = {
    ...counted,
    takeoff: {
      ...counted.takeoff,
      lines: [{ ...first!, price: 12.5 }, { ...second!, price: 7 }, ...others],
      cost: 19.5,
    },
  };
  const said = drawSheetSet(priced).pages.flatMap((page) => texts(page.items));
  for (const text of ['price', '12.50', '7.00', 'All that has a price', '19.50'])
    expect(said).toContain(text);
  const silent = drawSheetSet(counted).pages.map(pageText).join('\n');
  expect(silent).toContain('Takeoff');
  expect(silent).not.toMatch(/price/i);
});
