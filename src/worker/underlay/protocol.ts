import type { Problem } from '../../core/units';

/** What the underlay's worker is asked: one order at a time. */
export type UnderlayOrder =
  /** Reads a picture's head, decodes it once to see that it is whole, and says its size. */
  | { readonly kind: 'measure'; readonly bytes: Uint8Array<ArrayBuffer>; readonly fileName: string }
  /** Decodes a picture of a plan to be painted; a larger one comes at a size that the memory bears. */
  | { readonly kind: 'decode'; readonly dataUri: string; readonly fileName: string }
  /** Opens a PDF, which stays open for the orders after it. */
  | { readonly kind: 'open'; readonly bytes: Uint8Array<ArrayBuffer>; readonly fileName: string }
  /** Draws one page of the open PDF, counted from 1. */
  | { readonly kind: 'draw'; readonly pageNumber: number };

/** A page drawn as a picture. */
export interface DrawnPage {
  readonly blob: Blob;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Metres of paper to a pixel: the page's own size, before any scale printed on it. */
  readonly paperMetresPerPixel: number;
}

/** What came of each order. */
interface UnderlayResults {
  readonly measure: { readonly widthPx: number; readonly heightPx: number };
  readonly decode: { readonly bitmap: ImageBitmap };
  readonly open: { readonly pageCount: number };
  readonly draw: DrawnPage;
}

export type UnderlayResult<K extends UnderlayOrder['kind']> = UnderlayResults[K];

/** Done; refused with place, reason and remedy; or the broken claim of a bug. */
export type UnderlayAnswer<K extends UnderlayOrder['kind'] = UnderlayOrder['kind']> =
  | { readonly kind: 'done'; readonly result: UnderlayResult<K> }
  | { readonly kind: 'refused'; readonly problem: Problem }
  | { readonly kind: 'failed'; readonly claim: string };
