import type { ScreenPoint } from '../../../core/geometry';
import type { Brush } from './brush';

export interface Lettering {
  readonly text: string;
  readonly sizePx: number;
  readonly weight?: 400 | 600;
  /** Water figures lean. */
  readonly isWater?: boolean;
  readonly ink?: string;
  /** Ground laid under the letters so that no line runs through them. */
  readonly ground?: string;
  readonly angleRad?: number;
  readonly anchor?: 'start' | 'middle' | 'end';
}

/** Writes one line about a place on the screen. The brush must be on the screen. */
export function paintLetters(brush: Brush, at: ScreenPoint, lettering: Lettering): void {
  const { context, palette } = brush;
  const { text, sizePx, weight = 400, isWater = false, anchor = 'middle' } = lettering;
  context.save();
  context.translate(at.x, at.y);
  context.rotate(-(lettering.angleRad ?? 0));
  context.font = `${isWater ? 'italic ' : ''}${weight} ${sizePx}px "Asap Condensed", "Asap", sans-serif`;
  context.textBaseline = 'middle';
  context.textAlign = anchor === 'middle' ? 'center' : anchor;
  if (lettering.ground) {
    const wide = context.measureText(text).width + 8;
    const left = anchor === 'middle' ? -wide / 2 : anchor === 'start' ? -4 : 4 - wide;
    context.fillStyle = lettering.ground;
    context.fillRect(left, -sizePx * 0.65, wide, sizePx * 1.3);
  }
  context.fillStyle = lettering.ink ?? (isWater ? palette.ink.water : palette.ink.ink);
  context.fillText(text, 0, 0);
  context.restore();
}

/** Width of a line of text in CSS pixels. */
export function lettersWidthPx(
  { context }: Brush,
  text: string,
  sizePx: number,
  weight: 400 | 600 = 400,
): number {
  context.font = `${weight} ${sizePx}px "Asap Condensed", "Asap", sans-serif`;
  return context.measureText(text).width;
}
