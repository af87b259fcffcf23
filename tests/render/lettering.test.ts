import { expect, test } from 'vitest';
import type { Design } from '../../src/core/design';
import { drawCalculations, drawSheetSet } from '../../src/core/drawing';
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

test('the reading sees lettering on lettering, on a line and off the page', async () => {
  const page = {
    key: 'p',
    title: 'p',
    label: '1',
    widthMm: 100,
    heightMm: 100,
    scaleDenominator: null,
  };
  const text = (x: number, y: number, words: string) =>
    ({
      kind: 'text',
      layer: 'notes',
      at: { x, y },
      text: words,
      font: 'narrow',
      sizeMm: 2.2,
      ink: 'ink',
      anchor: 'start',
    }) as const;
  const line = (ink: 'ink' | 'paper', y: number) =>
    ({
      kind: 'path',
      layer: 'notes',
      steps: [
        ['M', 5, y],
        ['L', 60, y],
      ],
      stroke: { ink, widthMm: 0.2 },
    }) as const;
  const list = {
    title: 't',
    author: 'a',
    subject: 's',
    keywords: [],
    layers: [{ key: 'notes', name: 'Notes' }],
    pages: [
      {
        ...page,
        items: [
          text(10, 10, 'first run'),
          text(12, 10.4, 'second run'),
          text(10, 30, 'crossed'),
          line('ink', 29.3),
          text(10, 50, 'on blank paper'),
          line('paper', 49.3),
          line('ink', 51.2),
          text(99.4, 70, 'off'),
        ],
      },
    ],
  };
  const faults = unclearLettering((await readPages(renderPdf(list, fonts)))[0]!);
  // What runs off the page is read back cut at its edge.
  expect(faults.map((fault) => fault.replace(/ at .*/, '').replace(/^"of*"/, '"off"')).sort()).toEqual([
    '"crossed" stands on a line',
    '"first run" stands on "second run"',
    '"off" runs off the page',
  ]);
});

test('no lettering of the demonstration stands on other lettering, a line or off its page', async () => {
  expect(await faultsOf(demonstrationDesign())).toEqual([]);
}, 240_000);

test.each(['01-rect10x15ft.geojson', '03-L.geojson', '11-triangle.geojson', '12-one-tree.geojson'])(
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
