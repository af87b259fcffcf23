import type { PaperPoint } from '../geometry';
import { type Mark, pathItem, stroke, textItem } from './pen';
import { measureText } from './text';
import type { DrawingItem, PathStep } from './types';

/** How large a run's mark is drawn: small where runs lie closer on paper than the usual mark is high. */
export type FlagSize = 'usual' | 'small';

/** Heights of the mark, mm. */
export const FLAG_HEIGHT_MM: Readonly<Record<FlagSize, number>> = { usual: 3.9, small: 2.5 };
const LETTER_MM: Readonly<Record<FlagSize, number>> = { usual: 2.3, small: 1.9 };
const LEAST_WIDTH_MM: Readonly<Record<FlagSize, number>> = { usual: 6.4, small: 4.6 };
const AROUND_LETTERS_MM: Readonly<Record<FlagSize, number>> = { usual: 3.6, small: 2.3 };

/** Width of a run's mark, mm. */
export const runMarkWidthMm = (text: string, size: FlagSize): number =>
  Math.max(
    LEAST_WIDTH_MM[size],
    measureText(text, 'narrow-semibold', LETTER_MM[size]) + AROUND_LETTERS_MM[size],
  );

/** A plant label pointing right, with a run's mark in it; `at` is the middle of its left side. */
export function runMarkItems(
  mark: Mark,
  at: PaperPoint,
  text: string,
  size: FlagSize = 'usual',
): readonly DrawingItem[] {
  const widthMm = runMarkWidthMm(text, size);
  const h = FLAG_HEIGHT_MM[size] / 2;
  const tip = h * (2 / 1.95);
  const own = { group: `mark:${text}:${at.x.toFixed(2)},${at.y.toFixed(2)}`, ...mark };
  const steps: readonly PathStep[] = [
    ['M', at.x, at.y - h],
    ['L', at.x + widthMm - tip, at.y - h],
    ['L', at.x + widthMm, at.y],
    ['L', at.x + widthMm - tip, at.y + h],
    ['L', at.x, at.y + h],
    ['Z'],
  ];
  return [
    pathItem(own, steps, { fill: 'paper', stroke: stroke('ink', size === 'usual' ? 0.25 : 0.18) }),
    textItem(own, { x: at.x + (widthMm - tip / 2) / 2, y: at.y + (LETTER_MM[size] * 0.8) / 2.3 }, text, {
      font: 'narrow-semibold',
      sizeMm: LETTER_MM[size],
      anchor: 'middle',
    }),
  ];
}
