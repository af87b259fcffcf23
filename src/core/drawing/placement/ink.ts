import type { PaperPoint } from '../../geometry';
import { STAMP_LAYER } from '../stamp';
import { inkExtent, measureText } from '../text';
import type { DrawingItem, PathStep } from '../types';

/** A box on paper that may be turned: its middle, half its sides, and its angle (anticlockwise on paper). */
export interface TurnedBox {
  readonly x: number;
  readonly y: number;
  readonly halfWidthMm: number;
  readonly halfHeightMm: number;
  readonly angleRad: number;
}

/** A straight piece of a printed line. */
export interface InkSegment {
  readonly a: PaperPoint;
  readonly b: PaperPoint;
  readonly halfWidthMm: number;
  readonly group: string | undefined;
}

/** A printed text with the box of its glyphs. */
export interface InkText {
  readonly box: TurnedBox;
  readonly text: string;
  readonly group: string | undefined;
}

/** What a page's lettering must keep clear of. */
export interface Ink {
  readonly segments: readonly InkSegment[];
  readonly texts: readonly InkText[];
}

/** The glyph box of one line of text. */
export function textBox(item: Extract<DrawingItem, { kind: 'text' }>): TurnedBox {
  const width = measureText(item.text, item.font, item.sizeMm);
  const { lowMm, highMm } = inkExtent(item.text, item.font, item.sizeMm);
  const angle = item.angleRad ?? 0;
  const along = item.anchor === 'start' ? width / 2 : item.anchor === 'end' ? -width / 2 : 0;
  const up = (lowMm + highMm) / 2;
  return {
    x: item.at.x + along * Math.cos(angle) - up * Math.sin(angle),
    y: item.at.y - along * Math.sin(angle) - up * Math.cos(angle),
    halfWidthMm: width / 2,
    halfHeightMm: (highMm - lowMm) / 2,
    angleRad: angle,
  };
}

const CURVE_PIECES = 6;

/** Hands on the straight pieces of a path, cubics in six. Asked for every line of a page, so it makes no list of them. */
function eachPiece(steps: readonly PathStep[], take: (a: PaperPoint, b: PaperPoint) => void): void {
  let start: PaperPoint = { x: 0, y: 0 };
  let at = start;
  const to = (next: PaperPoint): void => {
    take(at, next);
    at = next;
  };
  for (const step of steps) {
    if (step[0] === 'M') {
      start = { x: step[1], y: step[2] };
      at = start;
    } else if (step[0] === 'L') to({ x: step[1], y: step[2] });
    else if (step[0] === 'Z') to(start);
    else {
      const from = at;
      for (let i = 1; i <= CURVE_PIECES; i++) {
        const t = i / CURVE_PIECES;
        const a = (1 - t) ** 3;
        const b = 3 * t * (1 - t) ** 2;
        const c = 3 * t * t * (1 - t);
        const d = t ** 3;
        to({
          x: a * from.x + b * step[1] + c * step[3] + d * step[5],
          y: a * from.y + b * step[2] + c * step[4] + d * step[6],
        });
      }
    }
  }
}

interface Window {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** Where a segment is inside a window, as two ratios along it (Liang and Barsky, 1984), or null. Asked for every line of a page, so it makes no lists. */
function inside(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  w: Window,
): { readonly from: number; readonly to: number } | null {
  let from = 0;
  let to = 1;
  const dx = bx - ax;
  const dy = by - ay;
  for (let side = 0; side < 4; side++) {
    const p = side === 0 ? -dx : side === 1 ? dx : side === 2 ? -dy : dy;
    const q = side === 0 ? ax - w.minX : side === 1 ? w.maxX - ax : side === 2 ? ay - w.minY : w.maxY - ay;
    if (p === 0) {
      if (q < 0) return null;
    } else if (p < 0) {
      if (q / p > from) from = q / p;
    } else if (q / p < to) to = q / p;
    if (from > to) return null;
  }
  return { from, to };
}

const holds = (w: Window, p: PaperPoint): boolean =>
  p.x >= w.minX && p.x <= w.maxX && p.y >= w.minY && p.y <= w.maxY;

/** The part of a segment inside a window, or null. */
function clipped(a: PaperPoint, b: PaperPoint, w: Window): readonly [PaperPoint, PaperPoint] | null {
  if (holds(w, a) && holds(w, b)) return [a, b];
  const part = inside(a.x, a.y, b.x, b.y, w);
  if (!part) return null;
  const at = (ratio: number): PaperPoint => ({ x: a.x + (b.x - a.x) * ratio, y: a.y + (b.y - a.y) * ratio });
  return [at(part.from), at(part.to)];
}

function stepsWindow(steps: readonly PathStep[]): Window {
  let [minX, minY, maxX, maxY] = [1e9, 1e9, -1e9, -1e9];
  const take = (p: PaperPoint): void => {
    minX = Math.min(minX, p.x);
    minY = Math.min(minY, p.y);
    maxX = Math.max(maxX, p.x);
    maxY = Math.max(maxY, p.y);
  };
  eachPiece(steps, (a, b) => {
    take(a);
    take(b);
  });
  return { minX, minY, maxX, maxY };
}

const narrower = (a: Window, b: Window): Window => ({
  minX: Math.max(a.minX, b.minX),
  minY: Math.max(a.minY, b.minY),
  maxX: Math.min(a.maxX, b.maxX),
  maxY: Math.min(a.maxY, b.maxY),
});

const EVERYWHERE: Window = { minX: -1e9, minY: -1e9, maxX: 1e9, maxY: 1e9 };
/** Fills that lie under everything and carry no meaning alone. */
const GROUND_FILLS: ReadonlySet<string> = new Set(['paper', 'leaf', 'bed', 'paving', 'build', 'water-wash']);

/** Every printed line and text of some items. A clip is taken as the box round its path; lines in the paper's own colour are no ink. */
export function inkOf(items: readonly DrawingItem[]): Ink {
  const segments: InkSegment[] = [];
  const texts: InkText[] = [];
  const walk = (list: readonly DrawingItem[], window: Window): void => {
    for (const item of list) {
      if (item.layer === STAMP_LAYER) continue;
      if (item.kind === 'clip') walk(item.items, narrower(window, stepsWindow(item.steps)));
      else if (item.kind === 'text') texts.push({ box: textBox(item), text: item.text, group: item.group });
      else if (item.kind === 'path') {
        const inked = item.stroke && item.stroke.ink !== 'paper' ? item.stroke.widthMm / 2 : 0;
        const filled = item.fill !== undefined && !GROUND_FILLS.has(item.fill);
        if (!inked && !filled) continue;
        eachPiece(item.steps, (a, b) => {
          const piece = clipped(a, b, window);
          if (piece) segments.push({ a: piece[0], b: piece[1], halfWidthMm: inked, group: item.group });
        });
      }
    }
  };
  walk(items, EVERYWHERE);
  return { segments, texts };
}

/** Corners of a turned box. */
export function boxCorners(box: TurnedBox): readonly PaperPoint[] {
  const [c, s] = [Math.cos(box.angleRad), Math.sin(box.angleRad)];
  return [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].map(([i = 0, j = 0]) => ({
    x: box.x + i * box.halfWidthMm * c + j * box.halfHeightMm * s,
    y: box.y - i * box.halfWidthMm * s + j * box.halfHeightMm * c,
  }));
}

/** True where a segment of some width enters a box by more than `toleranceMm`. */
export function segmentEnters(box: TurnedBox, segment: InkSegment, toleranceMm = 0.05): boolean {
  const grow = segment.halfWidthMm - toleranceMm;
  const w = box.halfWidthMm + grow;
  const h = box.halfHeightMm + grow;
  if (w <= 0 || h <= 0) return false;
  const c = Math.cos(box.angleRad);
  const s = Math.sin(box.angleRad);
  const ax = segment.a.x - box.x;
  const ay = segment.a.y - box.y;
  const bx = segment.b.x - box.x;
  const by = segment.b.y - box.y;
  const fromX = ax * c - ay * s;
  const fromY = ax * s + ay * c;
  const toX = bx * c - by * s;
  const toY = bx * s + by * c;
  if ((fromX < -w && toX < -w) || (fromX > w && toX > w)) return false;
  if ((fromY < -h && toY < -h) || (fromY > h && toY > h)) return false;
  return inside(fromX, fromY, toX, toY, { minX: -w, minY: -h, maxX: w, maxY: h }) !== null;
}

/** True where two turned boxes overlap by more than `toleranceMm` (separating axes). Negative tolerance asks for clear paper between. */
export function boxesOverlap(one: TurnedBox, other: TurnedBox, toleranceMm = 0.05): boolean {
  const [dx, dy] = [other.x - one.x, other.y - one.y];
  if (one.angleRad === 0 && other.angleRad === 0)
    return (
      Math.abs(dx) < one.halfWidthMm + other.halfWidthMm - toleranceMm &&
      Math.abs(dy) < one.halfHeightMm + other.halfHeightMm - toleranceMm
    );
  for (const axis of [
    one.angleRad,
    one.angleRad + Math.PI / 2,
    other.angleRad,
    other.angleRad + Math.PI / 2,
  ]) {
    const [ax, ay] = [Math.cos(axis), -Math.sin(axis)];
    const reach = (b: TurnedBox): number => {
      const turn = axis - b.angleRad;
      return b.halfWidthMm * Math.abs(Math.cos(turn)) + b.halfHeightMm * Math.abs(Math.sin(turn));
    };
    if (Math.abs(dx * ax + dy * ay) >= reach(one) + reach(other) - toleranceMm) return false;
  }
  return true;
}
