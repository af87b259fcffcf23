import type { Design } from '../../design';
import type { Printer } from '../../units';
import { drawingWords, detailText as words } from '../../words';
import type { Block, PaperRect } from '../blocks';
import { devicesOf } from '../devices';
import { frameItems, tableFrame } from '../frame';
import type { Paper } from '../papers';
import { lineItem, stroke, textItem, WEIGHT } from '../pen';
import type { BarePage } from '../sheetSet';
import type { DrawingItem } from '../types';
import { type DetailKey, detailFigures, drawDetail } from './drawings';
import { FIELD, startSketch } from './sketch';

export type { DetailKey } from './drawings';

/** The details a plan needs, most needed first. */
export function neededDetails(design: Design): readonly DetailKey[] {
  const { supply } = design;
  const sleeves = [...supply.sleeves, ...supply.zones.flatMap((z) => z.sleeves)];
  const has = (kind: string): boolean => devicesOf(supply).some((d) => d.kind === kind);
  const all: readonly [DetailKey, boolean][] = [
    ['stub-up', true],
    ['valve-assembly', true],
    ['flush-valve', true],
    ['crossing', sleeves.length > 0],
    ['staple', true],
    ['air-relief', has('air-relief')],
  ];
  return all.filter(([, needed]) => needed).map(([key]) => key);
}

const TITLE_MM = 8.5;

function detailCell(
  key: DetailKey,
  number: number,
  cell: PaperRect,
  figures: ReturnType<typeof detailFigures>,
): readonly DrawingItem[] {
  const unit = Math.min((cell.widthMm - 6) / FIELD.width, (cell.heightMm - TITLE_MM - 4) / FIELD.height);
  const sketch = startSketch(
    { x: cell.x + (cell.widthMm - FIELD.width * unit) / 2, y: cell.y + TITLE_MM },
    unit,
  );
  drawDetail(key, sketch, figures);
  const title = { font: 'narrow-semibold', sizeMm: 2.6 } as const;
  return [
    textItem({ layer: 'details' }, { x: cell.x + 3, y: cell.y + 5 }, String(number), title),
    textItem({ layer: 'details' }, { x: cell.x + 8, y: cell.y + 5 }, words.titles[key], title),
    ...sketch.items,
  ];
}

/** As many details as a strip under the plan holds, side by side. */
export function detailStrip(
  design: Design,
  print: Printer,
  strip: PaperRect,
): { readonly items: readonly DrawingItem[]; readonly drawn: readonly DetailKey[] } {
  const needed = neededDetails(design);
  const count = Math.min(needed.length, Math.floor(strip.widthMm / 62));
  const each = strip.widthMm / Math.max(1, count);
  const figures = detailFigures(design, print);
  const drawn = needed.slice(0, count);
  return {
    drawn,
    items: drawn.flatMap((key, i) => [
      ...(i === 0
        ? []
        : [
            lineItem(
              { layer: 'frame' },
              { x: strip.x + i * each, y: strip.y },
              { x: strip.x + i * each, y: strip.y + strip.heightMm },
              stroke('ink', WEIGHT.thin),
            ),
          ]),
      ...detailCell(key, i + 1, { ...strip, x: strip.x + i * each, widthMm: each }, figures),
    ]),
  };
}

/** So few details left over stand among the tables; more get a page of their own. */
const FEW_DETAILS = 2;

/** The details that found no room under the plan, as blocks among the tables; none where they are many. */
export function detailBlocks(
  design: Design,
  print: Printer,
  already: ReadonlySet<DetailKey>,
): readonly Block[] {
  const needed = neededDetails(design);
  const left = needed.filter((key) => !already.has(key));
  if (left.length > FEW_DETAILS) return [];
  const figures = detailFigures(design, print);
  return left.map((key) => ({
    key: `detail-${key}`,
    title: words.numbered(needed.indexOf(key) + 1, words.titles[key]),
    head: () => [],
    parts: (widthMm) => {
      const unitMm = Math.min(widthMm, MOST_DETAIL_MM) / FIELD.width;
      return [
        {
          heightMm: FIELD.height * unitMm,
          draw: (x, y) => {
            const sketch = startSketch({ x, y: y + 1 }, unitMm);
            drawDetail(key, sketch, figures);
            return sketch.items;
          },
        },
      ];
    },
  }));
}

const MOST_DETAIL_MM = 84;

/** Pages for the details that found no room under the plan, six a page at most. */
export function detailPages(
  design: Design,
  print: Printer,
  paper: Paper,
  already: ReadonlySet<DetailKey>,
): readonly BarePage[] {
  const needed = neededDetails(design);
  const left = needed.filter((key) => !already.has(key));
  if (left.length === 0) return [];
  const { frame } = tableFrame(paper);
  const figures = detailFigures(design, print);
  const columns = Math.min(3, Math.max(2, Math.ceil(left.length / 2)));
  const rows = Math.ceil(left.length / columns);
  const wide = frame.field.widthMm / columns;
  const high = Math.min(frame.field.heightMm / rows, wide * 0.85);
  return [
    {
      key: 'details',
      title: drawingWords.pages.details,
      paper,
      scaleDenominator: null,
      scaleText: drawingWords.noScale,
      items: left.flatMap((key, i) =>
        detailCell(
          key,
          needed.indexOf(key) + 1,
          {
            x: frame.field.x + (i % columns) * wide,
            y: frame.field.y + 2 + Math.floor(i / columns) * high,
            widthMm: wide,
            heightMm: high - 4,
          },
          figures,
        ),
      ),
      frame: (text) => frameItems(frame, text),
    },
  ];
}
