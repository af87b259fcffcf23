import type { DrawingPage } from '../types';
import { boxCorners, boxesOverlap, inkOf, segmentEnters } from './ink';
import { InkIndex } from './inkIndex';

/** One place where lettering is not clear. */
export interface Overlap {
  readonly text: string;
  /** The other text, or where the line runs. */
  readonly other: string;
  readonly x: number;
  readonly y: number;
}

/** All lettering of a page that is not clear; three empty lists on a sheet that may be printed. */
export interface OverlapReport {
  readonly textOnText: readonly Overlap[];
  readonly textOnLine: readonly Overlap[];
  readonly textOffPage: readonly Overlap[];
}

/**
 * Measures a page's lettering by its true glyph boxes: text on text, text on a line it does not belong to (items of one
 * group belong together), text off its page. Tolerance 0.05 mm, a third of the thinnest line.
 */
export function measureOverlaps(page: DrawingPage): OverlapReport {
  const ink = inkOf(page.items);
  const index = new InkIndex(ink.segments);
  const textOnText: Overlap[] = [];
  const textOnLine: Overlap[] = [];
  const textOffPage: Overlap[] = [];
  const sorted = [...ink.texts].sort((a, b) => a.box.y - b.box.y);
  sorted.forEach((text, i) => {
    const { box } = text;
    if (box.halfWidthMm === 0) return;
    const place = { text: text.text, x: box.x, y: box.y };
    if (boxCorners(box).some((p) => p.x < 0 || p.y < 0 || p.x > page.widthMm || p.y > page.heightMm))
      textOffPage.push({ ...place, other: 'page' });
    for (const other of sorted.slice(i + 1)) {
      if (other.box.y - box.y > 60) break;
      if (other.box.halfWidthMm > 0 && boxesOverlap(box, other.box))
        textOnText.push({ ...place, other: other.text });
    }
    for (const segment of index.near(box)) {
      if (segment.group !== undefined && segment.group === text.group) continue;
      if (segmentEnters(box, segment)) {
        const at = `${segment.a.x.toFixed(1)},${segment.a.y.toFixed(1)} to ${segment.b.x.toFixed(1)},${segment.b.y.toFixed(1)}`;
        textOnLine.push({ ...place, other: at });
        break;
      }
    }
  });
  return { textOnText, textOnLine, textOffPage };
}
