import type { PaperPoint } from '../geometry';
import { arcCubics } from './svgPath';
import { printable } from './text';
import type { DrawingItem, Font, Ink, PathStep, Stroke } from './types';

/** The five line weights of print, mm. */
export const WEIGHT = { hair: 0.13, thin: 0.18, mid: 0.25, bold: 0.35, mass: 0.6 } as const;
/** Em heights of print, mm; nothing is printed smaller than the first. */
export const SIZE = { small: 1.9, note: 2.2, text: 2.6, head: 3.5, title: 6 } as const;

/** What every item drawn by one pen shares. */
export interface Mark {
  readonly layer: string;
  readonly of?: string;
  readonly group?: string;
}

/** How a text is set; regular ink at text size from its start unless said. */
export interface TextStyle {
  readonly font?: Font;
  readonly sizeMm?: number;
  readonly ink?: Ink;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly angleRad?: number;
}

/** Steps through points; closed where asked. Fewer than two points give nothing. */
export function polylineSteps(points: readonly PaperPoint[], closed = false): readonly PathStep[] {
  if (points.length < 2) return [];
  const steps: PathStep[] = points.map((p, i) => (i === 0 ? ['M', p.x, p.y] : ['L', p.x, p.y]));
  return closed ? [...steps, ['Z']] : steps;
}

/** A circle as four cubics. */
export function circleSteps(x: number, y: number, radiusMm: number): readonly PathStep[] {
  return [['M', x + radiusMm, y], ...arcCubics(x, y, radiusMm, 0, 2 * Math.PI), ['Z']];
}

/** A rectangle from its top left corner. */
export function rectSteps(x: number, y: number, widthMm: number, heightMm: number): readonly PathStep[] {
  return [
    ['M', x, y],
    ['L', x + widthMm, y],
    ['L', x + widthMm, y + heightMm],
    ['L', x, y + heightMm],
    ['Z'],
  ];
}

/** A stroke of one ink; the remaining properties as given. */
export const stroke = (ink: Ink, widthMm: number, more: Omit<Stroke, 'ink' | 'widthMm'> = {}): Stroke => ({
  ink,
  widthMm,
  ...more,
});

/** A stroked and/or filled path. */
export function pathItem(
  mark: Mark,
  steps: readonly PathStep[],
  style: { readonly stroke?: Stroke; readonly fill?: Ink; readonly evenOdd?: boolean },
): DrawingItem {
  return { kind: 'path', ...mark, steps, ...style };
}

/** A straight line. */
export function lineItem(mark: Mark, from: PaperPoint, to: PaperPoint, style: Stroke): DrawingItem {
  return pathItem(mark, polylineSteps([from, to]), { stroke: style });
}

/** One line of text at its baseline's anchor; what the face cannot print is replaced. */
export function textItem(mark: Mark, at: PaperPoint, text: string, style: TextStyle = {}): DrawingItem {
  return {
    kind: 'text',
    ...mark,
    at: { x: at.x, y: at.y },
    text: printable(text),
    font: style.font ?? 'narrow',
    sizeMm: style.sizeMm ?? SIZE.text,
    ink: style.ink ?? 'ink',
    anchor: style.anchor ?? 'start',
    ...(style.angleRad ? { angleRad: style.angleRad } : {}),
  };
}

/** A path turned by `angleRad` (anticlockwise on paper), scaled and moved. */
export function placeSteps(
  steps: readonly PathStep[],
  at: PaperPoint,
  scale: number,
  angleRad = 0,
): readonly PathStep[] {
  const [c, s] = [Math.cos(angleRad) * scale, Math.sin(angleRad) * scale];
  const move = (x: number, y: number) => [at.x + c * x + s * y, at.y - s * x + c * y] as const;
  return steps.map((step): PathStep => {
    if (step[0] === 'Z') return step;
    if (step[0] === 'C') {
      return ['C', ...move(step[1], step[2]), ...move(step[3], step[4]), ...move(step[5], step[6])];
    }
    return [step[0], ...move(step[1], step[2])];
  });
}
