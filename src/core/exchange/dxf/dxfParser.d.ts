/**
 * The slice of the drawing parser that is used here. The package's own declarations pull in those of Node, which this
 * part of the program does without.
 */
export interface ParsedEntity {
  readonly type: string;
  readonly layer?: string;
  readonly vertices?: readonly { readonly x: number; readonly y: number; readonly bulge?: number }[];
  /** A closed polyline. */
  readonly shape?: boolean;
  readonly center?: { readonly x: number; readonly y: number };
  readonly position?: { readonly x: number; readonly y: number; readonly z?: number };
  readonly radius?: number;
  /** Radians, anticlockwise. */
  readonly startAngle?: number;
  readonly endAngle?: number;
  /** Of an insert: the block's name, its scales, its turn in degrees, and how often it is repeated. */
  readonly name?: string;
  readonly xScale?: number;
  readonly yScale?: number;
  readonly rotation?: number;
  readonly columnCount?: number;
  readonly rowCount?: number;
  readonly columnSpacing?: number;
  readonly rowSpacing?: number;
  readonly extrusionDirection?: { readonly z: number };
}

export interface ParsedDrawing {
  readonly header?: Readonly<Record<string, unknown>>;
  readonly entities?: readonly ParsedEntity[];
  readonly blocks?: Readonly<
    Record<
      string,
      {
        readonly position?: { readonly x: number; readonly y: number };
        readonly entities?: readonly ParsedEntity[];
      }
    >
  >;
}

export default class DxfParser {
  parseSync(text: string): ParsedDrawing | null;
}
