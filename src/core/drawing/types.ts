import type { PaperPoint } from '../geometry';

/** Inks by role; each adapter maps them to colours (screen look, print). Print black: `ink`; the one water ink: `water`. */
export type Ink =
  | 'ink'
  | 'ink-2'
  | 'ink-3'
  | 'paper'
  | 'leaf'
  | 'bed'
  | 'paving'
  | 'build'
  | 'rule'
  | 'rule-faint'
  | 'water'
  | 'water-wash'
  | 'stop'
  | 'check'
  | 'note'
  | 'ramp-1'
  | 'ramp-2'
  | 'ramp-3'
  | 'ramp-4'
  | 'ramp-5'
  | 'ramp-6';

export type Font =
  | 'regular'
  | 'italic'
  | 'semibold'
  | 'semibold-italic'
  | 'narrow'
  | 'narrow-italic'
  | 'narrow-semibold'
  | 'narrow-semibold-italic';

/** Path steps in paper millimetres: M move, L line, C cubic, Z close. */
export type PathStep =
  | readonly ['M', number, number]
  | readonly ['L', number, number]
  | readonly ['C', number, number, number, number, number, number]
  | readonly ['Z'];

export interface Stroke {
  readonly ink: Ink;
  readonly widthMm: number;
  readonly dashMm?: readonly number[];
  readonly cap?: 'butt' | 'round' | 'square';
  readonly join?: 'miter' | 'round' | 'bevel';
}

interface ItemBase {
  /** Layer of the PDF and of the screen's show and hide: "beds", "tubing", "dimensions" ... */
  readonly layer: string;
  /** The plan or design item it shows, so that the screen can point back. */
  readonly of?: string;
  /** Items of one group belong together: a label with its frame and leader, a symbol with its letter. */
  readonly group?: string;
}

export type DrawingItem =
  | (ItemBase & {
      readonly kind: 'path';
      readonly steps: readonly PathStep[];
      readonly stroke?: Stroke;
      readonly fill?: Ink;
      readonly evenOdd?: boolean;
    })
  /** Many round dots as one path of zero-length round-capped segments. */
  | (ItemBase & {
      readonly kind: 'dots';
      readonly at: readonly PaperPoint[];
      readonly diameterMm: number;
      readonly ink: Ink;
    })
  /** One line of text; `at` is the baseline's anchor point; `sizeMm` is the em. Angle anticlockwise on paper. */
  | (ItemBase & {
      readonly kind: 'text';
      readonly at: PaperPoint;
      readonly text: string;
      readonly font: Font;
      readonly sizeMm: number;
      readonly ink: Ink;
      readonly anchor: 'start' | 'middle' | 'end';
      readonly angleRad?: number;
    })
  | (ItemBase & {
      readonly kind: 'image';
      readonly dataUri: string;
      readonly at: PaperPoint;
      readonly widthMm: number;
      readonly heightMm: number;
      readonly angleRad: number;
      readonly opacityRatio: number;
    })
  /** Items seen only inside the clip path. */
  | (ItemBase & {
      readonly kind: 'clip';
      readonly steps: readonly PathStep[];
      readonly items: readonly DrawingItem[];
    });

export interface DrawingPage {
  readonly key: string;
  readonly title: string;
  /** Printed page label: "1", "2", "C1". */
  readonly label: string;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Denominator of the plan view on this page, or null. */
  readonly scaleDenominator: number | null;
  readonly items: readonly DrawingItem[];
}

/** The one picture that PDF, SVG and canvas draw. */
export interface DrawingList {
  readonly title: string;
  readonly author: string;
  readonly subject: string;
  readonly keywords: readonly string[];
  readonly pages: readonly DrawingPage[];
  readonly layers: readonly { readonly key: string; readonly name: string }[];
}
