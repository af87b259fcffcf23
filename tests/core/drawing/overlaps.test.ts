import { expect, test } from 'vitest';
import {
  type DrawingPage,
  drawSheetSet,
  measureOverlaps,
  PAPERS,
  type PaperKey,
} from '../../../src/core/drawing';
import { fixtureDesign } from './fixture';

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
const page = (items: DrawingPage['items']): DrawingPage => ({
  key: 'p',
  title: 'p',
  label: '1',
  widthMm: 100,
  heightMm: 100,
  scaleDenominator: null,
  items,
});

test('the measure sees text on text, text on a foreign line, and text off its page', () => {
  const report = measureOverlaps(
    page([
      text(10, 10, 'first run'),
      text(12, 10.4, 'second run'),
      text(96, 50, 'off the page'),
      text(10, 80, 'crossed'),
      {
        kind: 'path',
        layer: 'pipes',
        steps: [
          ['M', 8, 79],
          ['L', 40, 79],
        ],
        stroke: { ink: 'ink', widthMm: 0.2 },
      },
    ]),
  );
  expect(report.textOnText).toHaveLength(1);
  expect(report.textOnLine.map((o) => o.text)).toEqual(['crossed']);
  expect(report.textOffPage.map((o) => o.text)).toEqual(['off the page']);
});

test('a line of the same group as its text is no overlap', () => {
  const report = measureOverlaps(
    page([
      { ...text(10, 10, 'A1'), group: 'mark' },
      {
        kind: 'path',
        layer: 'notes',
        group: 'mark',
        steps: [
          ['M', 8, 9.4],
          ['L', 40, 9.4],
        ],
        stroke: { ink: 'ink', widthMm: 0.2 },
      },
    ]),
  );
  expect(report.textOnLine).toEqual([]);
});

test('no lettering of a set touches other lettering or a foreign line, on every paper', () => {
  const design = fixtureDesign();
  for (const paper of Object.keys(PAPERS) as PaperKey[]) {
    for (const sheet of drawSheetSet(design, { paper }).pages) {
      const where = `${paper}, page ${sheet.label} ${sheet.title}`;
      expect(measureOverlaps(sheet), where).toEqual({ textOnText: [], textOnLine: [], textOffPage: [] });
    }
  }
}, 120_000);
