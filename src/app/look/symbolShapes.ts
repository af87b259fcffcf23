import { SYMBOLS, type SymbolKey } from '../../core/drawing';

/** One stroke or fill of a symbol, in the symbol's own 24-unit square. */
export interface SymbolPart {
  readonly d?: string;
  readonly text?: string;
  readonly x?: number;
  readonly y?: number;
  readonly size?: number;
  readonly fill?: 'ink' | 'paper';
  readonly stroke?: 'ink' | 'paper';
  readonly width?: number;
  readonly dash?: readonly number[];
}
/** A symbol as data, so that the page, the canvas and the legend draw the very same strokes. */
export interface SymbolShape {
  /** Left, top, width, height of the box the symbol is drawn in. */
  readonly box: readonly [number, number, number, number];
  readonly parts: readonly SymbolPart[];
}

const circlePath = ([x, y, radius]: readonly [number, number, number]): string =>
  `M${x - radius} ${y}a${radius} ${radius} 0 1 0 ${2 * radius} 0a${radius} ${radius} 0 1 0 ${-2 * radius} 0Z`;

/** The strokes of a symbol that the sheet prints too: they live with the sheet. */
const printed = (key: SymbolKey): readonly SymbolPart[] =>
  SYMBOLS[key].map(({ d, circle, fill, width, dash }) => ({
    d: circle ? circlePath(circle) : (d ?? ''),
    ...(fill ? { fill: fill === true ? 'ink' : fill } : {}),
    ...(width ? { stroke: 'ink' as const, width } : {}),
    ...(dash ? { dash } : {}),
  }));

/** Each symbol is the part doing its work, and reads at 3 mm in one ink. */
export const SYMBOL_SHAPES = {
  'air-relief': { box: [-1, -1, 26, 26], parts: printed('air-relief') },
  'backflow-preventer': { box: [-1, -1, 26, 26], parts: printed('backflow') },
  boulder: { box: [-1, -1, 26, 26], parts: printed('boulder') },
  'catch-crossing': {
    box: [-1, -1, 24, 21],
    parts: [
      { d: 'M2 2L19 16M2 16L19 2', stroke: 'ink', width: 2 },
      { d: 'M6.5 9a4 4 0 1 0 8 0a4 4 0 1 0 -8 0Z', fill: 'paper', stroke: 'ink', width: 2 },
      { d: 'M9.1 9a1.4 1.4 0 1 0 2.8 0a1.4 1.4 0 1 0 -2.8 0Z', fill: 'ink' },
    ],
  },
  'catch-edge': {
    box: [-1, -1, 24, 21],
    parts: [
      { d: 'M1 14C6 6 12 6 19 3', stroke: 'ink', width: 2 },
      { d: 'M6 7.4a4 4 0 1 0 8 0a4 4 0 1 0 -8 0Z', fill: 'paper', stroke: 'ink', width: 2 },
    ],
  },
  'catch-end': {
    box: [-1, -1, 24, 21],
    parts: [
      { d: 'M3 9H10', stroke: 'ink', width: 2 },
      { d: 'M9 4.5h9v9h-9Z', fill: 'paper', stroke: 'ink', width: 2 },
    ],
  },
  'catch-grid': {
    box: [-1, -1, 24, 21],
    parts: [
      { d: 'M3 0V18M18 0V18M0 2H21M0 16H21', stroke: 'ink', width: 1 },
      { d: 'M-0.6000000000000001 16a3.6 3.6 0 1 0 7.2 0a3.6 3.6 0 1 0 -7.2 0Z', fill: 'ink' },
    ],
  },
  'catch-middle': {
    box: [-1, -1, 24, 21],
    parts: [
      { d: 'M1 9H20', stroke: 'ink', width: 2 },
      { d: 'M6 4.5h9v9h-9Z', fill: 'paper', stroke: 'ink', width: 2 },
      { d: 'M10.5 4.5V13.5H6V4.5Z', fill: 'ink' },
    ],
  },
  'catch-square': {
    box: [-1, -1, 24, 21],
    parts: [
      { d: 'M2 17H19M4 17V1', stroke: 'ink', width: 2 },
      { d: 'M4 9.5h7.5v7.5h-7.5Z', fill: 'ink' },
    ],
  },
  'drain-point': { box: [-1, -1, 26, 26], parts: printed('drain-point') },
  flow: { box: [-1, -1, 26, 26], parts: printed('flow') },
  'flush-valve': { box: [-1, -1, 26, 26], parts: printed('flush-valve') },
  header: {
    box: [-1, -1, 26, 26],
    parts: [{ d: 'M-1 9H25V15H-1Z', fill: 'paper', stroke: 'ink', width: 1.8 }],
  },
  main: {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M-1 8.5H25V15.5H-1Z', fill: 'paper', stroke: 'ink', width: 1.6 },
      { d: 'M-1 12H25', stroke: 'ink', width: 3 },
    ],
  },
  'match-line': { box: [-1, -1, 26, 26], parts: printed('match-line') },
  north: {
    box: [-1, -1, 26, 26],
    parts: [
      { text: 'N', x: 12, y: 6.4, size: 8.5, fill: 'ink' },
      { d: 'M12 8L14.6 19H9.4Z', stroke: 'ink', width: 1.2 },
      { d: 'M12 8L14.6 19H12Z', fill: 'ink' },
      { d: 'M9 20.4a3 3 0 1 0 6 0a3 3 0 1 0 -6 0Z', fill: 'paper', stroke: 'ink', width: 1.6 },
      { d: 'M11 20.4a1 1 0 1 0 2 0a1 1 0 1 0 -2 0Z', fill: 'ink' },
    ],
  },
  'problem-check': { box: [-1, -1, 26, 26], parts: printed('problem-check') },
  'problem-note': { box: [-1, -1, 26, 26], parts: printed('problem-note') },
  'problem-stop': { box: [-1, -1, 26, 26], parts: printed('problem-stop') },
  'run-mark': {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M1.5 4.5H16L23 12L16 19.5H1.5Z', fill: 'paper', stroke: 'ink', width: 1.8 },
      { text: 'A1', x: 9.6, y: 15.8, size: 10.5, fill: 'ink' },
    ],
  },
  sleeve: { box: [-1, -1, 26, 26], parts: printed('sleeve') },
  splice: { box: [-1, -1, 26, 26], parts: printed('splice') },
  'staple-at-turn': { box: [-1, -1, 26, 26], parts: printed('staple-at-turn') },
  'stub-up': { box: [-1, -1, 26, 26], parts: printed('stub-up') },
  'tree-canopy': {
    box: [-1, -1, 26, 26],
    parts: [
      {
        d: 'M1.5999999999999996 12a10.4 10.4 0 1 0 20.8 0a10.4 10.4 0 1 0 -20.8 0Z',
        stroke: 'ink',
        width: 1.1,
        dash: [4.6, 1.94],
      },
      {
        d: 'M22.1 14.3L19.8 13.7M18.9 19.8L17.3 18.0M13.0 22.4L12.8 20.0M6.7 21.0L7.9 18.9M2.5 16.1L4.7 15.2M1.9 9.7L4.2 10.3M5.1 4.2L6.7 6.0M11.0 1.6L11.2 4.0M17.3 3.0L16.1 5.1M21.5 7.9L19.3 8.8',
        stroke: 'ink',
        width: 1.1,
      },
    ],
  },
  'tree-trunk': { box: [-1, -1, 26, 26], parts: printed('tree-trunk') },
  'valve-assembly': { box: [-1, -1, 26, 26], parts: printed('valve-assembly') },
  'water-source': { box: [-1, -1, 26, 26], parts: printed('connection') },
} as const satisfies Readonly<Record<string, SymbolShape>>;

export type SymbolName = keyof typeof SYMBOL_SHAPES;
