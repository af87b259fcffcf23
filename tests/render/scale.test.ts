import { expect, test } from 'vitest';
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

test('the bed measures true on every scale offered, US and metric', async () => {
  const design = fixtureDesign();
  let measured = 0;
  for (const { denominator, label } of [...US_SCALES, ...METRIC_SCALES]) {
    const set = drawSheetSet(design, { paper: 'arch-d', scaleDenominator: denominator, include: ['plan'] });
    const bytes = renderPdf(drawingOnly({ ...set, pages: set.pages.slice(0, 1) }), fonts);
    // By hand: a foot is 12 x 72 = 864 pt at full size.
    const wanted = { width: (20 * 864) / denominator, height: (18 * 864) / denominator };
    if (wanted.height > 1200) continue;
    const box = await nearestBox(bytes, wanted);
    expect(Math.abs(box.width / wanted.width - 1), label).toBeLessThan(0.001);
    expect(Math.abs(box.height / wanted.height - 1), label).toBeLessThan(0.001);
    measured += 1;
  }
  // Only the scales at which this bed is larger than the paper are left out.
  expect(measured).toBeGreaterThanOrEqual(US_SCALES.length + METRIC_SCALES.length - 3);
}, 120_000);

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

test('every paper comes out at its own size, lying', async () => {
  for (const key of Object.keys(PAPERS) as PaperKey[]) {
    const doc = await openPdf(
      renderPdf(drawingOnly(drawSheetSet(fixtureDesign(), { paper: key, include: ['plan'] })), fonts),
    );
    const [, , width = 0, height = 0] = (await doc.getPage(1)).view;
    expect(width / 72).toBeCloseTo(PAPERS[key].widthMm / 25.4, 2);
    expect(height / 72).toBeCloseTo(PAPERS[key].heightMm / 25.4, 2);
  }
}, 120_000);
