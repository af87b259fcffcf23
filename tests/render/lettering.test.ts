import { expect, test } from 'vitest';
import type { Design } from '../../src/core/design';
import { type DrawingPage, drawCalculations, drawSheetSet } from '../../src/core/drawing';
import { renderPdf } from '../../src/render';
import { fixtureDesign } from '../core/drawing/fixture';
import { bedDesign, demonstrationDesign } from './designs';
import { fonts } from './readBack';
import { readPages, unclearLettering } from './readLettering';

/** Every fault of every page of a set and its calculations, as a second library reads them. */
async function faultsOf(design: Design): Promise<readonly string[]> {
  const faults: string[] = [];
  for (const list of [drawSheetSet(design), drawCalculations(design)]) {
    const pages = await readPages(renderPdf(list, fonts));
    pages.forEach((page, i) => {
      for (const fault of unclearLettering(page)) faults.push(`${list.pages[i]!.label}: ${fault}`);
    });
  }
  return faults;
}

type Items = DrawingPage['items'];
type Word = Partial<Extract<Items[number], { kind: 'text' }>>;

const text = (x: number, y: number, words: string, style: Word = {}): Items[number] => ({
  kind: 'text',
  layer: 'notes',
  at: { x, y },
  text: words,
  font: 'narrow',
  sizeMm: 2.2,
  ink: 'ink',
  anchor: 'start',
  ...style,
});

const line = (ink: 'ink' | 'paper', y: number): Items[number] => ({
  kind: 'path',
  layer: 'notes',
  steps: [
    ['M', 5, y],
    ['L', 60, y],
  ],
  stroke: { ink, widthMm: 0.2 },
});

/** What the reading finds on one page of 100 mm, without places. What runs off the page is read back cut at its edge. */
async function faultsOn(items: Items): Promise<readonly string[]> {
  const list = {
    title: 't',
    author: 'a',
    subject: 's',
    keywords: [],
    layers: [
      { key: 'stamp', name: 'Stamp' },
      { key: 'notes', name: 'Notes' },
    ],
    pages: [{ key: 'p', title: 'p', label: '1', widthMm: 100, heightMm: 100, scaleDenominator: null, items }],
  };
  const faults = unclearLettering((await readPages(renderPdf(list, fonts)))[0]!);
  return faults.map((fault) => fault.replace(/ at .*/, '').replace(/^"of*"/, '"off"')).sort();
}

test('the reading sees lettering on lettering, on a line and off the page', async () => {
  const faults = await faultsOn([
    text(10, 10, 'first run'),
    text(12, 10.4, 'second run'),
    text(10, 30, 'crossed'),
    line('ink', 29.3),
    text(10, 50, 'on blank paper'),
    line('paper', 49.3),
    line('ink', 51.2),
    text(99.4, 70, 'off'),
  ]);
  expect(faults).toEqual([
    '"crossed" stands on a line',
    '"first run" stands on "second run"',
    '"off" runs off the page',
  ]);
});

test('a pale stamp under everything is no overlap; what stands on a line above it still is', async () => {
  const stamp = text(5, 34, 'NOT FOR CONSTRUCTION', { layer: 'stamp', sizeMm: 8, ink: 'build' });
  const crossed = [text(10, 30, 'crossed'), line('ink', 29.3)];
  expect(await faultsOn([stamp, text(10, 30, 'clear'), line('ink', 32)])).toEqual([]);
  expect(await faultsOn([stamp, ...crossed])).toEqual(['"crossed" stands on a line']);
});

test('a stamp that is dark, or that is laid over the page, is an overlap whatever it says', async () => {
  const under = [text(10, 30, 'clear'), line('ink', 32)];
  const stamp = (ink: 'ink' | 'build', layer = 'stamp') =>
    text(5, 34, 'NOT FOR CONSTRUCTION', { layer, sizeMm: 8, ink });
  const found = ['"NOT FOR CONSTRUCTION" stands on "clear"', '"NOT FOR CONSTRUCTION" stands on a line'];
  expect(await faultsOn([stamp('ink'), ...under])).toEqual(found);
  expect((await faultsOn([...under, stamp('build')])).map((fault) => fault.split(' stands')[0])).toEqual([
    '"NOT FOR CONSTRUCTION"',
    '"clear"',
  ]);
});

test.each(['preview', 'finished'] as const)(
  'no lettering of the demonstration, %s, stands on other lettering, a line or off its page',
  async (quality) => {
    expect(await faultsOf(demonstrationDesign(quality))).toEqual([]);
  },
  240_000,
);

// The last is refused, so that its sheets carry the stamp. Every other bed is measured by the bench of sheets.
test.each([
  '01-rect10x15ft.geojson',
  '03-L.geojson',
  '11-triangle.geojson',
  '12-one-tree.geojson',
  '22-sliver.geojson',
  '25-taper.geojson',
  '26-hostile-bowtie.geojson',
  '32-hostile-too-small.geojson',
])(
  'no lettering of bed %s stands on other lettering, a line or off its page',
  async (file) => {
    expect(await faultsOf(bedDesign(file))).toEqual([]);
  },
  240_000,
);

test('no lettering of a tiled plan stands on other lettering or a match line', async () => {
  const design = fixtureDesign((plan) => ({
    ...plan,
    display: { ...plan.display, paper: 'letter', scaleDenominator: 48 },
  }));
  expect(await faultsOf(design)).toEqual([]);
});
