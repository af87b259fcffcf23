import type { PaperRect } from '../blocks';
import type { PageLayout } from '../flow';
import { tableFrame } from '../frame';
import type { Paper } from '../papers';
import { lineItem, stroke, WEIGHT } from '../pen';
import type { DrawingItem } from '../types';

/** A strip is about as wide as a hand holds folded. */
const STRIP_MM = 88;
const PAD_MM = 4;
/** Read at arm's length, kneeling. */
const STRIP_TYPE = 1.4;

function stripsOf(field: PaperRect): readonly PaperRect[] {
  const count = Math.max(1, Math.floor(field.widthMm / STRIP_MM));
  const widthMm = field.widthMm / count;
  return Array.from({ length: count }, (_, i) => ({
    x: field.x + i * widthMm + PAD_MM,
    y: field.y + PAD_MM,
    widthMm: widthMm - 2 * PAD_MM,
    heightMm: field.heightMm - 2 * PAD_MM,
  }));
}

/** Dashes between the strips, along which the page is folded. */
const foldItems = (strips: readonly PaperRect[]): readonly DrawingItem[] =>
  strips
    .slice(1)
    .map((strip) =>
      lineItem(
        { layer: 'frame' },
        { x: strip.x - PAD_MM, y: strip.y - PAD_MM },
        { x: strip.x - PAD_MM, y: strip.y + strip.heightMm + PAD_MM },
        stroke('ink-3', WEIGHT.thin, { dashMm: [4, 2.5] }),
      ),
    );

/** How a page of lay script is divided, and the fold marks that go over it. */
export function layLayout(paper: Paper): {
  readonly layout: PageLayout;
  readonly folds: readonly DrawingItem[];
} {
  const { frame } = tableFrame(paper);
  const columns = stripsOf(frame.field);
  return {
    layout: { frame, columns, largestType: STRIP_TYPE, leastType: STRIP_TYPE, fillsColumns: true },
    folds: foldItems(columns),
  };
}
