import { drawingWords as words } from '../words';
import type { PaperRect } from './blocks';
import { pathItem, rectSteps, textItem } from './pen';
import { measureText } from './text';
import type { DrawingItem } from './types';

/** Layer of what is laid under a whole page on purpose; lettering does not keep clear of it. */
export const STAMP_LAYER = 'stamp';

/** The warning across the face of a sheet while a stop finding stands, under everything else so that nothing is hidden. */
export function stampItems(field: PaperRect): readonly DrawingItem[] {
  const text = words.notForConstruction;
  const angle = Math.atan2(field.heightMm, field.widthMm) * 0.8;
  const diagonal = Math.hypot(field.widthMm, field.heightMm) * 0.72;
  const sizeMm = diagonal / measureText(text, 'semibold', 1);
  return [
    textItem(
      { layer: STAMP_LAYER },
      {
        x: field.x + field.widthMm / 2 + Math.sin(angle) * sizeMm * 0.35,
        y: field.y + field.heightMm / 2 + Math.cos(angle) * sizeMm * 0.35,
      },
      text,
      { font: 'semibold', sizeMm, ink: 'build', anchor: 'middle', angleRad: angle },
    ),
  ];
}

/** The same words in a black bar along the foot of the field, where they are read first. */
export function stampBarItems(x: number, y: number, widthMm: number): readonly DrawingItem[] {
  const mark = { layer: 'frame', group: 'stamp-bar' };
  return [
    pathItem(mark, rectSteps(x, y, widthMm, 7), { fill: 'stop' }),
    textItem(
      mark,
      { x: x + widthMm / 2, y: y + 4.8 },
      `${words.notForConstruction}: ${words.notForConstructionWhy}`,
      {
        font: 'narrow-semibold',
        sizeMm: 3.2,
        ink: 'paper',
        anchor: 'middle',
      },
    ),
  ];
}
