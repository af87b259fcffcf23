import type { PaperPoint } from '../../geometry';
import {
  circleSteps,
  pathItem,
  placeSteps,
  polylineSteps,
  rectSteps,
  SIZE,
  stroke,
  type TextStyle,
  textItem,
  WEIGHT,
} from '../pen';
import { parseSvgPath } from '../svgPath';
import type { DrawingItem, Ink, Stroke } from '../types';

/** A detail's own sheet: 58 x 36 units, drawn at `unitMm` from a corner. Lettering keeps its size whatever the unit. */
export const FIELD = { width: 58, height: 36 } as const;

/** Draws in the field's units and gathers what it drew. */
export interface Sketch {
  readonly items: DrawingItem[];
  readonly line: (
    points: readonly (readonly [number, number])[],
    ink?: Ink,
    widthMm?: number,
    more?: Omit<Stroke, 'ink' | 'widthMm'>,
  ) => void;
  readonly path: (
    d: string,
    style: { readonly ink?: Ink; readonly widthMm?: number; readonly fill?: Ink },
  ) => void;
  readonly box: (
    x: number,
    y: number,
    w: number,
    h: number,
    style: { readonly ink?: Ink; readonly widthMm?: number; readonly fill?: Ink },
  ) => void;
  readonly disc: (
    x: number,
    y: number,
    r: number,
    style: { readonly ink?: Ink; readonly widthMm?: number; readonly fill?: Ink },
  ) => void;
  readonly text: (x: number, y: number, text: string, style?: TextStyle) => void;
  /** Lettering beside a thing, with a thin line to it. */
  readonly call: (
    x: number,
    y: number,
    text: string,
    toX: number,
    toY: number,
    anchor?: 'start' | 'end',
  ) => void;
  /** A dimension with square feet, its figure beside the middle. */
  readonly measure: (
    a: readonly [number, number],
    b: readonly [number, number],
    text: string,
    side: 'left' | 'right' | 'above' | 'below',
  ) => void;
}

interface ShapeStyle {
  readonly ink?: Ink;
  readonly widthMm?: number;
  readonly fill?: Ink;
}

const paint = (style: ShapeStyle) => ({
  ...(style.fill ? { fill: style.fill } : {}),
  ...(style.ink || style.widthMm ? { stroke: stroke(style.ink ?? 'ink', style.widthMm ?? WEIGHT.mid) } : {}),
});

/** A fresh sketch with its corner at `at`. */
export function startSketch(at: PaperPoint, unitMm: number): Sketch {
  const items: DrawingItem[] = [];
  const mark = { layer: 'details' };
  const p = (x: number, y: number): PaperPoint => ({ x: at.x + x * unitMm, y: at.y + y * unitMm });
  const text: Sketch['text'] = (x, y, words, style = {}) => {
    items.push(textItem(mark, p(x, y), words, { sizeMm: SIZE.note, ...style }));
  };
  const foot = (x: number, y: number): void => {
    const c = p(x, y);
    items.push(pathItem(mark, rectSteps(c.x - 0.4, c.y - 0.4, 0.8, 0.8), { fill: 'ink' }));
  };
  return {
    items,
    line: (points, ink = 'ink', widthMm = WEIGHT.mid, more = {}) => {
      items.push(
        pathItem(mark, polylineSteps(points.map(([x, y]) => p(x, y))), {
          stroke: stroke(ink, widthMm, more),
        }),
      );
    },
    path: (d, style) => {
      items.push(pathItem(mark, placeSteps(parseSvgPath(d), at, unitMm), paint(style)));
    },
    box: (x, y, w, h, style) => {
      const c = p(x, y);
      items.push(pathItem(mark, rectSteps(c.x, c.y, w * unitMm, h * unitMm), paint(style)));
    },
    disc: (x, y, r, style) => {
      const c = p(x, y);
      items.push(pathItem(mark, circleSteps(c.x, c.y, r * unitMm), paint(style)));
    },
    text,
    call: (x, y, words, toX, toY, anchor = 'start') => {
      const from = p(x, y);
      const to = p(toX, toY);
      const start = { x: from.x + (anchor === 'start' ? -0.7 : 0.7), y: from.y - 0.75 };
      items.push(pathItem(mark, polylineSteps([start, to]), { stroke: stroke('ink', WEIGHT.hair) }));
      items.push(pathItem(mark, rectSteps(to.x - 0.25, to.y - 0.25, 0.5, 0.5), { fill: 'ink' }));
      text(x, y, words, { anchor });
    },
    measure: (a, b, words, side) => {
      items.push(pathItem(mark, polylineSteps([p(...a), p(...b)]), { stroke: stroke('ink', WEIGHT.thin) }));
      foot(...a);
      foot(...b);
      const m = p((a[0] + b[0]) / 2, (a[1] + b[1]) / 2);
      const shifts = { left: [-1, 0.8], right: [1, 0.8], above: [0, -0.9], below: [0, 2.5] } as const;
      const shift = shifts[side];
      items.push(
        textItem(mark, { x: m.x + shift[0], y: m.y + shift[1] }, words, {
          sizeMm: SIZE.note,
          anchor: side === 'left' ? 'end' : side === 'right' ? 'start' : 'middle',
        }),
      );
    },
  };
}

/** Ground: a bold line with its soil below, hatched here and there as in a field book. */
export function drawSoil(
  s: Sketch,
  y: number,
  bottom: number,
  gaps: readonly (readonly [number, number])[] = [],
): void {
  s.box(0, y, FIELD.width, bottom - y, { fill: 'bed' });
  let x = 0;
  for (const [from, to] of [...gaps, [FIELD.width, FIELD.width] as const]) {
    if (from > x)
      s.line(
        [
          [x, y],
          [from, y],
        ],
        'ink',
        WEIGHT.bold,
      );
    x = to;
  }
}

/** Mulch: a line of small waves over the soil. */
export function drawMulch(s: Sketch, y: number, from: number, to: number): void {
  const waves = Math.max(1, Math.round((to - from) / 3));
  const step = (to - from) / waves;
  let d = `M${from} ${y}`;
  for (let i = 0; i < waves; i++) {
    const x = from + i * step;
    d += `C${x + step * 0.25} ${y - 0.9} ${x + step * 0.75} ${y - 0.9} ${x + step} ${y}`;
  }
  s.path(d, { ink: 'ink-2', widthMm: WEIGHT.thin });
}

/** Gravel in the foot of a box. */
export function drawGravel(s: Sketch, x: number, y: number, width: number): void {
  const count = Math.floor(width / 2.3);
  for (let row = 0; row < 2; row++)
    for (let i = 0; i < count - row; i++)
      s.disc(x + 1.3 + row * 1.1 + i * 2.3, y + row * 1.7, 0.7, {
        fill: 'paper',
        ink: 'ink',
        widthMm: WEIGHT.thin,
      });
}
