import { expect, test } from 'vitest';
import {
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

/** Widths in points of all paths of a printed page. */
const widths = async (bytes: Uint8Array): Promise<number[]> =>
  (await pathBoxes(bytes, 1)).map(([x0 = 0, , x1 = 0]) => x1 - x0);

test('a bed edge of 20 ft at 1/4" = 1\'-0" measures 5.000 in on the printed page', async () => {
  const bytes = renderPdf(
    drawSheetSet(fixtureDesign(), { paper: 'arch-d', scaleDenominator: 48, include: ['plan'] }),
    fonts,
  );
  // By hand: 20 ft x 12 / 48 = 5.000 in = 360 pt; 10 ft is then 2.500 in.
  const nearest = Math.min(...(await widths(bytes)).map((w) => Math.abs(w - 360)));
  expect(nearest).toBeLessThan(0.02);
});

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
      renderPdf(drawSheetSet(fixtureDesign(), { paper: key, include: ['plan'] }), fonts),
    );
    const [, , width = 0, height = 0] = (await doc.getPage(1)).view;
    expect(width / 72).toBeCloseTo(PAPERS[key].widthMm / 25.4, 2);
    expect(height / 72).toBeCloseTo(PAPERS[key].heightMm / 25.4, 2);
  }
});
