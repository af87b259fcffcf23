import { expect, test } from 'vitest';
import type { Design, DesignedBed } from '../../src/core/design';
import {
  type DrawingItem,
  type DrawingList,
  drawSheetSet,
  METRIC_SCALES,
  PAPERS,
  type PaperKey,
  scaleBar,
  US_SCALES,
} from '../../src/core/drawing';
import { renderPdf } from '../../src/render';
import { fixtureDesign } from '../core/drawing/fixture';
import { fonts, openPdf, pathBoxes } from './readBack';

/** The drawing of a set with one line of its lettering: what is measured here is drawn, and embedding faces takes time. */
function drawingOnly(list: DrawingList): DrawingList {
  const linework = (items: readonly DrawingItem[]): readonly DrawingItem[] =>
    items.flatMap((item) =>
      item.kind === 'text' ? [] : item.kind === 'clip' ? { ...item, items: linework(item.items) } : item,
    );
  const text = list.pages[0]!.items.find((item) => item.kind === 'text')!;
  return { ...list, pages: list.pages.map((page) => ({ ...page, items: [text, ...linework(page.items)] })) };
}

/** Widths in points of all paths of a printed page. */
const widths = async (bytes: Uint8Array): Promise<number[]> =>
  (await pathBoxes(bytes, 1)).map(([x0 = 0, , x1 = 0]) => x1 - x0);

/** Width and height in points of the printed path whose size comes nearest to the wanted one. */
async function nearestBox(bytes: Uint8Array, wanted: { width: number; height: number }) {
  const boxes = (await pathBoxes(bytes, 1)).map(([x0 = 0, y0 = 0, x1 = 0, y1 = 0]) => ({
    width: x1 - x0,
    height: y1 - y0,
  }));
  const miss = (box: { width: number; height: number }): number =>
    Math.max(Math.abs(box.width - wanted.width), Math.abs(box.height - wanted.height));
  return boxes.reduce((best, box) => (miss(box) < miss(best) ? box : best));
}

test('a bed of 20 x 18 ft at 1/4" = 1\'-0" measures 5.000 x 4.500 in on the printed page', async () => {
  const bytes = renderPdf(
    drawSheetSet(fixtureDesign(), { paper: 'arch-d', scaleDenominator: 48, include: ['plan'] }),
    fonts,
  );
  // By hand: 20 ft x 12 / 48 = 5.000 in = 360 pt, 18 ft = 324 pt; 10 ft is then 2.500 in. Both sides count, so that no
  // other line of the sheet (the scale bar is 360 pt long too) can stand in for the bed.
  const box = await nearestBox(bytes, { width: 360, height: 324 });
  expect(Math.abs(box.width - 360)).toBeLessThan(0.02);
  expect(Math.abs(box.height - 324)).toBeLessThan(0.02);
});

/** A plan with one bare bed, 60 x 45 mm on paper at a scale, so that nothing has to be lettered round it and every paper holds it. */
function bareBed(denominator: number): Design {
  const design = fixtureDesign((plan) => ({ ...plan, structures: {}, trees: {}, sources: {} }));
  const [bed] = design.beds as [DesignedBed];
  const [x, y] = [(60 * denominator) / 1000, (45 * denominator) / 1000];
  const outer = [
    { x: 0, y: 0 },
    { x, y: 0 },
    { x, y },
    { x: 0, y },
  ];
  const outline = [{ outer, holes: [] }];
  const layout = { ...bed.layout, outline, usable: outline, runs: [], joins: [], stubUp: { x: 0, y: 0 } };
  return {
    ...design,
    beds: [{ ...bed, zoneId: null, layout }],
    supply: { ...design.supply, zones: [], main: [], sleeves: [], devices: [] },
  };
}

/** One page with its bed outline alone and its scale bar: what is measured is parsed, and nothing else. */
const outlineOnly = (list: DrawingList): DrawingList => {
  const page = list.pages[0]!;
  const inked = drawingOnly({ ...list, pages: [page] }).pages[0]!.items;
  const keep = (items: readonly DrawingItem[]): readonly DrawingItem[] =>
    items.flatMap((item) =>
      item.kind === 'clip'
        ? { ...item, items: keep(item.items) }
        : item.layer === 'beds' || item.kind === 'text' || item.group === 'scale-bar'
          ? item
          : [],
    );
  return { ...list, pages: [{ ...page, items: keep(inked) }] };
};

const EVERY_PAIR = (Object.keys(PAPERS) as PaperKey[]).flatMap((paper) =>
  [...US_SCALES, ...METRIC_SCALES].map((scale) => ({ paper, ...scale })),
);

// ANSI and architectural papers in inches; ISO 216 in millimetres (both from memory of the standards).
const SIZES_IN: Readonly<Record<PaperKey, readonly [number, number]>> = {
  letter: [11, 8.5],
  tabloid: [17, 11],
  'arch-c': [24, 18],
  'arch-d': [36, 24],
  a4: [297 / 25.4, 210 / 25.4],
  a3: [420 / 25.4, 297 / 25.4],
  a2: [594 / 25.4, 420 / 25.4],
  a1: [841 / 25.4, 594 / 25.4],
};

test('a bed measures true within 0.01 in on every paper at every scale offered, and the page is its paper', async () => {
  const misses: string[] = [];
  for (const { paper, denominator, label } of EVERY_PAIR) {
    const set = drawSheetSet(bareBed(denominator), {
      paper,
      scaleDenominator: denominator,
      include: ['plan'],
    });
    const bytes = renderPdf(outlineOnly(set), fonts);
    // By hand: 60 x 45 mm of paper are 170.079 x 127.559 pt whatever the scale; 0.01 in is 0.72 pt.
    const box = await nearestBox(bytes, { width: (60 / 25.4) * 72, height: (45 / 25.4) * 72 });
    const offPt = Math.max(Math.abs(box.width - 170.079), Math.abs(box.height - 127.559));
    const [, , width = 0, height = 0] = (await (await openPdf(bytes)).getPage(1)).view;
    const [wideIn, highIn] = SIZES_IN[paper];
    const offPage = Math.max(Math.abs(width / 72 - wideIn), Math.abs(height / 72 - highIn));
    if (offPt > 0.1 || offPage > 0.005) misses.push(`${paper} at ${label}: ${offPt.toFixed(3)} pt off`);
    expect(set.pages[0]!.scaleDenominator).toBe(denominator);
  }
  expect(EVERY_PAIR).toHaveLength(8 * (16 + 11));
  expect(misses).toEqual([]);
}, 240_000);

test('the scale bar is as long as its sentence says, on every scale offered', () => {
  for (const [system, scales] of [
    ['us', US_SCALES],
    ['metric', METRIC_SCALES],
  ] as const) {
    for (const scale of scales) {
      const bar = scaleBar(scale.denominator, system, 152.4);
      const [, said = '', unit] = /^([\d.]+) (in|mm)$/.exec(bar.paperText) ?? [];
      expect(Number(said) * (unit === 'in' ? 25.4 : 1), scale.label).toBeCloseTo(bar.paperMm, 1);
      // Independently: a length on paper is the true length over the denominator.
      expect((bar.lengthM * 1000) / scale.denominator, scale.label).toBeCloseTo(bar.paperMm, 6);
      expect(bar.parts * bar.partFigure * (system === 'us' ? 0.3048 : 1)).toBeCloseTo(bar.lengthM, 9);
    }
  }
});

test('the printed scale bar measures what its sentence says', async () => {
  const list = drawSheetSet(fixtureDesign(), { paper: 'tabloid', scaleDenominator: 96, include: ['plan'] });
  const items = list.pages[0]!.items.filter((item) => item.group === 'scale-bar');
  const sentence = items.find((item) => item.kind === 'text' && item.text.startsWith('Scale'));
  const said = /bar is not ([\d.]+) in long/.exec(sentence?.kind === 'text' ? sentence.text : '')!;
  const nearest = Math.min(
    ...(await widths(renderPdf(list, fonts))).map((w) => Math.abs(w / 72 - Number(said[1]))),
  );
  expect(nearest).toBeLessThan(0.005);
});
