import type { PaperPoint } from '../geometry';
import { circleSteps, type Mark, pathItem, placeSteps, stroke, textItem } from './pen';
import { parseSvgPath } from './svgPath';
import type { DrawingItem, Ink, PathStep } from './types';

/** Every symbol of the sheet: each is the part doing its work, on a field of 24 units. */
export type SymbolKey =
  | 'connection'
  | 'meter'
  | 'backflow'
  | 'shut-off'
  | 'master-valve'
  | 'flow-sensor'
  | 'valve-assembly'
  | 'flush-valve'
  | 'air-relief'
  | 'drain-point'
  | 'check-valve'
  | 'controller'
  | 'stub-up'
  | 'splice'
  | 'flow'
  | 'boulder'
  | 'tree-trunk'
  | 'match-line'
  | 'problem-stop'
  | 'problem-check'
  | 'problem-note'
  | 'staple-at-turn'
  | 'sleeve';

/** One stroke or fill of a symbol. `fill` true is full ink, 'paper' is hollow. */
export interface SymbolStroke {
  readonly d?: string;
  readonly circle?: readonly [number, number, number];
  readonly fill?: true | 'paper';
  readonly width?: number;
  readonly dash?: readonly number[];
}

/** Strokes of every symbol, for the sheet and for the screen alike. */
export const SYMBOLS: Readonly<Record<SymbolKey, readonly SymbolStroke[]>> = {
  connection: [
    { d: 'M4 2V22', width: 3 },
    { d: 'M5 4.5A7.5 7.5 0 0 1 5 19.5Z', fill: true },
    { d: 'M11 12H24', width: 2.5 },
  ],
  meter: [
    { d: 'M0 12H24', width: 2 },
    { circle: [12, 12, 8], fill: 'paper', width: 2 },
    { d: 'M12 4.5V7M5.2 9L7.4 10M18.8 9L16.6 10', width: 1.4 },
    { d: 'M12 14L16 8.5', width: 2 },
    { circle: [12, 14, 2], fill: true },
  ],
  backflow: [
    { d: 'M2 5H22V19H2Z', fill: 'paper', width: 2 },
    { d: 'M6 7.5L10 16.5M14 7.5L18 16.5', width: 2.6 },
    { circle: [6, 8, 2.1], fill: true },
    { circle: [14, 8, 2.1], fill: true },
  ],
  'shut-off': [
    { d: 'M0 14H24', width: 2 },
    { circle: [12, 14, 6.5], fill: 'paper', width: 2 },
    { d: 'M12 20.5V7.5', width: 2.6 },
    { d: 'M6 3.5H18M12 3.5V8', width: 2.4 },
  ],
  'master-valve': [
    { d: 'M1 8H23V21H1Z', fill: true },
    { d: 'M5 8V3H19V8', width: 2 },
    { d: 'M12 3V8', width: 2 },
  ],
  'flow-sensor': [
    { d: 'M1 5H23V19H1Z', fill: 'paper', width: 2 },
    { circle: [12, 12, 1.8], fill: true },
    { d: 'M12 12L12 6.5M12 12L17 14.8M12 12L7 14.8', width: 2 },
  ],
  'valve-assembly': [
    { d: 'M1 5H23V19H1Z', fill: 'paper', width: 2 },
    { d: 'M1 5H8.5V19H1Z', fill: true },
    { d: 'M8.5 5V19M16 5V19', width: 1.4 },
    { d: 'M8.5 12L12.2 5M8.5 19L16 5M12.2 19L16 12M8.5 12L12.2 19M8.5 5L16 19M12.2 5L16 12', width: 1 },
    { d: 'M16.6 9H19.4V15.5H23', width: 2.2 },
  ],
  'flush-valve': [
    { d: 'M3 3H21V21H3Z', fill: 'paper', width: 2 },
    { d: 'M3 21V3L21 21Z', fill: true },
  ],
  'air-relief': [
    { d: 'M1 20H23', width: 2.4 },
    { d: 'M5 19V12A7 7 0 0 1 19 12V19', fill: 'paper', width: 2 },
    { circle: [12, 12.5, 2.6], fill: true },
    { circle: [12, 1.9, 1.7], fill: true },
  ],
  'drain-point': [
    { d: 'M1 5H23', width: 2.4 },
    { d: 'M12 6V10', width: 2.4 },
    {
      d: 'M12 10C16.5 15 17.5 16.5 17.5 18.2A5.5 5.5 0 0 1 6.5 18.2C6.5 16.5 7.5 15 12 10Z',
      fill: 'paper',
      width: 2,
    },
  ],
  'check-valve': [
    { d: 'M2 6H22V18H2Z', fill: 'paper', width: 2 },
    { d: 'M9 7L14.5 17', width: 2.6 },
    { circle: [9, 8, 2.1], fill: true },
  ],
  controller: [
    { d: 'M3 2H21V22H3Z', fill: 'paper', width: 2 },
    { circle: [12, 9.5, 4.6], fill: 'paper', width: 1.6 },
    { d: 'M12 6.8V9.5H14.2', width: 1.6 },
    { d: 'M6.5 18H17.5', width: 2, dash: [2, 1.6] },
  ],
  'stub-up': [
    { d: 'M12 24V12', width: 4.4 },
    { d: 'M12 13C12 6 7 6 2.5 3M12 13C12 6 17 6 21.5 3', width: 2.2 },
    { circle: [12, 13, 4], fill: true },
  ],
  splice: [
    { d: 'M0 12H24', width: 2 },
    { d: 'M8 7H16A5 5 0 0 1 16 17H8A5 5 0 0 1 8 7Z', fill: 'paper', width: 2 },
    { d: 'M12 3.5V20.5', width: 2.4 },
  ],
  flow: [
    { d: 'M1 15H22', width: 2 },
    { d: 'M23 16H10L13.5 13.8L11 5.5Z', fill: true },
  ],
  boulder: [
    { d: 'M3 15L5.5 6.5L13 3L20 7.5L22 15.5L16.5 21H7Z', fill: 'paper', width: 1.6 },
    { d: 'M5.5 6.5L11 10L13 3M11 10L12.5 16L22 15.5M12.5 16L7 21', width: 1 },
    { d: 'M22 15.5L16.5 21H7', width: 2.8 },
  ],
  'tree-trunk': [
    { circle: [12, 12, 8.5], fill: 'paper', width: 2 },
    { circle: [12, 12, 5], width: 1.2 },
    { circle: [12, 12, 2.2], fill: true },
  ],
  'match-line': [
    { d: 'M10 -1V5M10 19V25', width: 2.6 },
    { d: 'M8.7 5H18V8.5L24 12L18 15.5V19H8.7Z', fill: true },
  ],
  'problem-stop': [
    { d: 'M3 3H21V21H3Z', fill: true },
    { d: 'M7 10.2H17V13.8H7Z', fill: 'paper' },
  ],
  'problem-check': [
    { d: 'M2 4H22L12 22Z', fill: 'paper', width: 2.6 },
    { d: 'M12 4H22L12 22Z', fill: true },
  ],
  'problem-note': [
    { circle: [12, 12, 8.6], fill: 'paper', width: 2.8 },
    { circle: [12, 12, 2.6], fill: true },
  ],
  'staple-at-turn': [
    { d: 'M4 24V12A8 8 0 0 1 20 12V24', width: 1.8 },
    { d: 'M12 .5V7.5M9.5 .9H14.5M9.5 7.1H14.5', width: 2 },
    { d: 'M3.4 3.6L8.6 8.4M1.8 5.4L5 2M7 10.2L10.2 6.7', width: 2 },
    { d: 'M20.6 3.6L15.4 8.4M22.2 5.4L19 2M17 10.2L13.8 6.7', width: 2 },
  ],
  sleeve: [
    { d: 'M0 12H24', width: 2 },
    { d: 'M3.5 7H20.5M3.5 17H20.5', width: 1.6, dash: [4, 2.2] },
    { d: 'M3.5 3.5V20.5M20.5 3.5V20.5', width: 2.4 },
  ],
};

/** The point of the 24-unit field that stands on the place shown; the middle unless said. */
const ANCHORS: Partial<Record<SymbolKey, readonly [number, number]>> = {
  'stub-up': [12, 13],
  connection: [4, 12],
  'air-relief': [12, 13],
};

/** A symbol at a place. `sizeMm` is the side of its field (3 mm is the least that reads); angle anticlockwise on paper. */
export function symbolItems(
  mark: Mark,
  key: SymbolKey,
  at: PaperPoint,
  sizeMm = 3.6,
  angleRad = 0,
  ink: Ink = 'ink',
): readonly DrawingItem[] {
  const [cx, cy] = ANCHORS[key] ?? [12, 12];
  const unit = sizeMm / 24;
  const own = { group: `symbol:${mark.of ?? ''}:${at.x.toFixed(2)},${at.y.toFixed(2)}`, ...mark };
  return SYMBOLS[key].map((part) => {
    const raw: readonly PathStep[] = part.circle ? circleSteps(...part.circle) : parseSvgPath(part.d ?? '');
    const centred = placeSteps(raw, { x: -cx, y: -cy }, 1);
    return pathItem(own, placeSteps(centred, at, unit, angleRad), {
      ...(part.fill ? { fill: part.fill === true ? ink : ('paper' as const) } : {}),
      ...(part.width
        ? {
            stroke: stroke(
              ink,
              part.width * unit,
              part.dash ? { dashMm: part.dash.map((d) => d * unit) } : {},
            ),
          }
        : {}),
    });
  });
}

/** A stake and its noon shadow pointing to true north (`angleRad` anticlockwise from up), standing on `at`. */
export function northItems(
  mark: Mark,
  at: PaperPoint,
  heightMm: number,
  angleRad: number,
): readonly DrawingItem[] {
  const unit = heightMm / 26;
  const own = { group: 'north', ...mark };
  const place = (d: string) =>
    placeSteps(placeSteps(parseSvgPath(d), { x: -12, y: -20.4 }, 1), at, unit, angleRad);
  const letter = { x: at.x - Math.sin(angleRad) * 16.4 * unit, y: at.y - Math.cos(angleRad) * 16.4 * unit };
  return [
    pathItem(own, place('M12 8L14.6 19H9.4Z'), { stroke: stroke('ink', 1.2 * unit) }),
    pathItem(own, place('M12 8L14.6 19H12Z'), { fill: 'ink' }),
    pathItem(own, circleSteps(at.x, at.y, 3 * unit), { fill: 'paper', stroke: stroke('ink', 1.6 * unit) }),
    pathItem(own, circleSteps(at.x, at.y, unit), { fill: 'ink' }),
    textItem(own, { x: letter.x, y: letter.y + 2.9 * unit }, 'N', {
      font: 'narrow-semibold',
      sizeMm: 8.5 * unit,
      anchor: 'middle',
    }),
  ];
}
