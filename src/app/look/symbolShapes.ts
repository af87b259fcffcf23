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

/** Each symbol is the part doing its work, and reads at 3 mm in one ink. */
export const SYMBOL_SHAPES = {
  'air-relief': {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M1 20H23', stroke: 'ink', width: 2.4 },
      { d: 'M5 19V12A7 7 0 0 1 19 12V19', fill: 'paper', stroke: 'ink', width: 2 },
      { d: 'M9.4 12.5a2.6 2.6 0 1 0 5.2 0a2.6 2.6 0 1 0 -5.2 0Z', fill: 'ink' },
      { d: 'M10.3 1.9a1.7 1.7 0 1 0 3.4 0a1.7 1.7 0 1 0 -3.4 0Z', fill: 'ink' },
    ],
  },
  'backflow-preventer': {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M2 5H22V19H2Z', fill: 'paper', stroke: 'ink', width: 2 },
      { d: 'M6 7.5L10 16.5M14 7.5L18 16.5', stroke: 'ink', width: 2.6 },
      { d: 'M3.9 8a2.1 2.1 0 1 0 4.2 0a2.1 2.1 0 1 0 -4.2 0Z', fill: 'ink' },
      { d: 'M11.9 8a2.1 2.1 0 1 0 4.2 0a2.1 2.1 0 1 0 -4.2 0Z', fill: 'ink' },
    ],
  },
  boulder: {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M3 15L5.5 6.5L13 3L20 7.5L22 15.5L16.5 21H7Z', fill: 'paper', stroke: 'ink', width: 1.6 },
      { d: 'M5.5 6.5L11 10L13 3M11 10L12.5 16L22 15.5M12.5 16L7 21', stroke: 'ink', width: 1 },
      { d: 'M22 15.5L16.5 21H7', stroke: 'ink', width: 2.8 },
    ],
  },
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
  flow: {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M1 15H22', stroke: 'ink', width: 2 },
      { d: 'M23 16H10L13.5 13.8L11 5.5Z', fill: 'ink' },
    ],
  },
  'flush-valve': {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M3 3H21V21H3Z', fill: 'paper', stroke: 'ink', width: 2 },
      { d: 'M3 21V3L21 21Z', fill: 'ink' },
    ],
  },
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
  'match-line': {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M10 -1V5M10 19V25', stroke: 'ink', width: 2.6 },
      { d: 'M8.7 5H18V8.5L24 12L18 15.5V19H8.7Z', fill: 'ink' },
      { text: '3', x: 13.6, y: 15.4, size: 9.5, fill: 'paper' },
    ],
  },
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
  'problem-check': {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M2 4H22L12 22Z', fill: 'paper', stroke: 'ink', width: 2.6 },
      { d: 'M12 4H22L12 22Z', fill: 'ink' },
    ],
  },
  'problem-note': {
    box: [-1, -1, 26, 26],
    parts: [
      {
        d: 'M3.4000000000000004 12a8.6 8.6 0 1 0 17.2 0a8.6 8.6 0 1 0 -17.2 0Z',
        fill: 'paper',
        stroke: 'ink',
        width: 2.8,
      },
      { d: 'M9.4 12a2.6 2.6 0 1 0 5.2 0a2.6 2.6 0 1 0 -5.2 0Z', fill: 'ink' },
    ],
  },
  'problem-stop': {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M3 3H21V21H3Z', fill: 'ink' },
      { d: 'M7 12H17', stroke: 'paper', width: 3.6 },
    ],
  },
  'run-mark': {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M1.5 4.5H16L23 12L16 19.5H1.5Z', fill: 'paper', stroke: 'ink', width: 1.8 },
      { text: 'A1', x: 9.6, y: 15.8, size: 10.5, fill: 'ink' },
    ],
  },
  sleeve: {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M0 12H24', stroke: 'ink', width: 2 },
      { d: 'M3.5 7H20.5M3.5 17H20.5', stroke: 'ink', width: 1.6, dash: [4, 2.2] },
      { d: 'M3.5 3.5V20.5M20.5 3.5V20.5', stroke: 'ink', width: 2.4 },
    ],
  },
  splice: {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M0 12H24', stroke: 'ink', width: 2 },
      { d: 'M8 7H16A5 5 0 0 1 16 17H8A5 5 0 0 1 8 7Z', fill: 'paper', stroke: 'ink', width: 2 },
      { d: 'M12 3.5V20.5', stroke: 'ink', width: 2.4 },
    ],
  },
  'staple-at-turn': {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M4 24V12A8 8 0 0 1 20 12V24', stroke: 'ink', width: 1.8 },
      { d: 'M12 .5V7.5M9.5 .9H14.5M9.5 7.1H14.5', stroke: 'ink', width: 2 },
      { d: 'M3.4 3.6L8.6 8.4M1.8 5.4L5 2M7 10.2L10.2 6.7', stroke: 'ink', width: 2 },
      { d: 'M20.6 3.6L15.4 8.4M22.2 5.4L19 2M17 10.2L13.8 6.7', stroke: 'ink', width: 2 },
    ],
  },
  'stub-up': {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M12 24V12', stroke: 'ink', width: 4.4 },
      { d: 'M12 13C12 6 7 6 2.5 3M12 13C12 6 17 6 21.5 3', stroke: 'ink', width: 2.2 },
      { d: 'M8 13a4 4 0 1 0 8 0a4 4 0 1 0 -8 0Z', fill: 'ink' },
    ],
  },
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
  'tree-trunk': {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M3.5 12a8.5 8.5 0 1 0 17 0a8.5 8.5 0 1 0 -17 0Z', fill: 'paper', stroke: 'ink', width: 2 },
      { d: 'M7 12a5 5 0 1 0 10 0a5 5 0 1 0 -10 0Z', stroke: 'ink', width: 1.2 },
      { d: 'M9.8 12a2.2 2.2 0 1 0 4.4 0a2.2 2.2 0 1 0 -4.4 0Z', fill: 'ink' },
    ],
  },
  'valve-assembly': {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M1 5H23V19H1Z', fill: 'paper', stroke: 'ink', width: 2 },
      { d: 'M1 5H8.5V19H1Z', fill: 'ink' },
      { d: 'M8.5 5V19M16 5V19', stroke: 'ink', width: 1.4 },
      {
        d: 'M8.5 12L12.2 5M8.5 19L16 5M12.2 19L16 12M8.5 12L12.2 19M8.5 5L16 19M12.2 5L16 12',
        stroke: 'ink',
        width: 1,
      },
      { d: 'M16.6 9H19.4V15.5H23', stroke: 'ink', width: 2.2 },
    ],
  },
  'water-source': {
    box: [-1, -1, 26, 26],
    parts: [
      { d: 'M4 2V22', stroke: 'ink', width: 3 },
      { d: 'M5 4.5A7.5 7.5 0 0 1 5 19.5Z', fill: 'ink' },
      { d: 'M11 12H24', stroke: 'ink', width: 2.5 },
    ],
  },
} as const satisfies Readonly<Record<string, SymbolShape>>;

export type SymbolName = keyof typeof SYMBOL_SHAPES;
