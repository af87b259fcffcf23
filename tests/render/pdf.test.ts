import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { type DrawingList, drawCalculations, drawSheetSet, LAYERS } from '../../src/core/drawing';
import { LOOKS, renderPdf, renderSvg } from '../../src/render';
import { fixtureDesign } from '../core/drawing/fixture';
import { fonts, openPdf } from './readBack';

const design = fixtureDesign();
const list = drawSheetSet(design, { paper: 'tabloid' });
const bytes = renderPdf(list, fonts);
const folder = mkdtempSync(join(tmpdir(), 'rillsheet-pdf-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const hasQpdf = spawnSync('qpdf', ['--version']).status === 0;

const textOf = async (data: Uint8Array, page: number): Promise<string> => {
  const content = await (await (await openPdf(data)).getPage(page)).getTextContent();
  return content.items.map((item) => ('str' in item ? item.str : '')).join(' ');
};

test('the set opens in a second library with its title, bookmarks, page labels and layers', async () => {
  const doc = await openPdf(bytes);
  expect(doc.numPages).toBe(list.pages.length);
  const { info } = await doc.getMetadata();
  expect(info).toMatchObject({ Title: 'Plot 7, Tarn Lane', Author: 'A. Fitter', Creator: 'Rillsheet' });
  expect(await doc.getPageLabels()).toEqual(list.pages.map((page) => page.label));
  const outline = await doc.getOutline();
  expect(outline.map((entry) => entry.title)).toEqual(
    list.pages.map((page) => `${page.label}  ${page.title}`),
  );
  const layers = await doc.getOptionalContentConfig();
  const names = [...layers].map(([, group]) => group.name);
  expect(names).toEqual(LAYERS.map((layer) => layer.name));
});

test('every face used is embedded as a subset, and none is left to the reader', async () => {
  const doc = await openPdf(bytes);
  const page = await doc.getPage(1);
  await page.getOperatorList();
  const raw = new TextDecoder('latin1').decode(bytes);
  const descriptors = raw.match(/\/Type \/FontDescriptor/g) ?? [];
  const files = raw.match(/\/FontFile2 /g) ?? [];
  expect(descriptors.length).toBeGreaterThan(2);
  expect(files.length).toBe(descriptors.length);
  // All eight whole faces together are 764 kB: subsets stay far below.
  expect(bytes.length).toBeLessThan(200_000);
});

test('the words of the sheet can be read back from it', async () => {
  const text = await textOf(bytes, 1);
  for (const words of ['Bed A, 360 ft²', 'do not scale from this sheet', 'Have buried utilities located'])
    expect(text).toContain(words);
});

test('the same plan gives the same bytes', () => {
  const again = renderPdf(drawSheetSet(fixtureDesign(), { paper: 'tabloid' }), fonts);
  expect(Buffer.from(again).equals(Buffer.from(bytes))).toBe(true);
});

test.skipIf(!hasQpdf)('the sheet and the calculations hold no structural error (needs qpdf)', () => {
  for (const [name, data] of [
    ['sheet', bytes],
    ['calculations', renderPdf(drawCalculations(design), fonts)],
  ] as const) {
    const file = join(folder, `${name}.pdf`);
    writeFileSync(file, data);
    expect(execFileSync('qpdf', ['--check', file], { encoding: 'utf8' })).toContain(
      'No syntax or stream encoding errors',
    );
  }
});

test('20 000 emitters stay under 400 kB a page, as dots and as ticks', () => {
  const at = Array.from({ length: 20_000 }, (_, i) => ({
    x: 10 + (i % 200) * 1.9 + 0.37 * Math.sin(i),
    y: 10 + Math.floor(i / 200) * 2.5 + 0.29 * Math.cos(i * 1.7),
  }));
  const page = (items: DrawingList['pages'][number]['items']): DrawingList => ({
    ...list,
    pages: [{ ...list.pages[0]!, items }],
  });
  const label = {
    kind: 'text',
    layer: 'notes',
    at: { x: 5, y: 5 },
    text: 'A1',
    font: 'narrow',
    sizeMm: 2.2,
    ink: 'ink',
    anchor: 'start',
  } as const;
  const dots = renderPdf(
    page([label, { kind: 'dots', layer: 'emitters', at, diameterMm: 0.4, ink: 'water' }]),
    fonts,
  );
  expect(dots.length).toBeLessThan(400_000);
  const ticks = renderPdf(
    page([
      label,
      {
        kind: 'path',
        layer: 'emitters',
        steps: at.flatMap((p, i) => [
          ['M', p.x, p.y] as const,
          ['L', p.x + 0.85 * Math.sin(i), p.y + 0.85 * Math.cos(i)] as const,
        ]),
        stroke: { ink: 'water', widthMm: 0.13 },
      },
    ]),
    fonts,
  );
  expect(ticks.length).toBeLessThan(400_000);
});

test('a name with letters the face lacks, with emoji and right to left, still prints something that can be read', async () => {
  const strange = fixtureDesign((plan) => ({
    ...plan,
    project: {
      ...plan.project,
      title: 'גן הוורדים 🌹 Rose & <bed> "7"',
      place: 'Łódź, Ærø \u202Eevil\u202C line\nbreak',
      designer: 'x'.repeat(4000),
    },
  }));
  const named = {
    ...strange,
    beds: strange.beds.map((bed, i) => ({
      ...bed,
      name: i === 0 ? '庭 🌻 '.repeat(60) : `Rosen 🌹 ${'und noch mehr Rosen '.repeat(20)}`,
    })),
  };
  const odd = drawSheetSet(named, { paper: 'a3' });
  const data = renderPdf(odd, fonts);
  const text = await textOf(data, 1);
  expect(text).toContain('Rose & <bed> "7"');
  expect(text).toContain('Łódź, Ærø evil line break');
  // A name without one letter that the face has gives way to the bed's mark; one longer than its column is cut.
  const all = await Promise.all(odd.pages.map((_, i) => textOf(data, i + 1)));
  expect(all.join(' ')).toContain(`Bed ${named.beds[0]!.mark}`);
  expect(all.join(' ')).not.toContain('? ? ?');
  expect(all.join(' ')).toContain('Rosen ? und noch mehr');
  const svg = renderSvg(odd.pages[0]!, LOOKS.print);
  expect(svg).toContain('Rose &amp; &lt;bed&gt; &quot;7&quot;');
});

test('a number that is not finite is refused, not printed', () => {
  const broken: DrawingList = {
    ...list,
    pages: [
      {
        ...list.pages[0]!,
        items: [
          {
            kind: 'path',
            layer: 'beds',
            steps: [
              ['M', 0, Number.NaN],
              ['L', 1, 1],
            ],
            stroke: { ink: 'ink', widthMm: 0.2 },
          },
        ],
      },
    ],
  };
  expect(() => renderPdf(broken, fonts)).toThrow(/NaN/);
});
