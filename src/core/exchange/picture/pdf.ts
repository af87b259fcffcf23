import type { Problem } from '../../units';

/**
 * What one page of a PDF may ask for before it is refused. Set so that a site plan plotted full of contours passes and a page
 * made to fill the memory does not; chosen by trial on made pages, no outside source.
 */
export const PDF_LIMITS = {
  /** The file itself, bytes. */
  fileBytes: 100_000_000,
  pages: 20_000,
  /** Longest side of a page, metres: more than any plotter's paper, and than a page scaled by its own unit. */
  pageSideM: 50,
  /** Drawing operators of a page, each use of a repeated form counted anew. */
  operators: 120_000,
  /** Steps that each use of a form counts for beside those within it: the library sets up a drawing of its own each time. */
  operatorsPerForm: 10,
  /** Pens put by and not yet taken up again: the library looks through all of them at each step. ISO 32000-1 (annex C) names 28. */
  savedPens: 1_000,
  /** Corners of all paths of a page. */
  pathPoints: 2_000_000,
  /** Small pieces of memory that the reader may take between one part of the drawing and the next that it hands over. */
  unsentPieces: 50_000,
  /** Pixels of one picture on the page. */
  picturePixels: 40_000_000,
  /** What one packed stream may unpack to, bytes: drawing, font, or the raw rows of a picture. */
  streamBytes: 40_000_000,
  /** What all streams that are being unpacked at the same time may hold, bytes. */
  unpackingBytes: 100_000_000,
  /** Largest single piece of memory while a page is read, bytes: four a pixel of the largest picture, and a little. */
  pieceBytes: 170_000_000,
  /** All large pieces together of one reading of a page, bytes. */
  totalBytes: 450_000_000,
  /** Pixels of the drawn page: more would not fit a plan file. */
  drawnPixels: 12_000_000,
  /** Longest side of the drawn page that every canvas can hold, pixels. */
  drawnSidePx: 16_384,
  /** Pixels of the page and of all sheets that are laid over each other while it is drawn. */
  layerPixels: 60_000_000,
  /** Time for opening the file, for counting what a page holds, and for counting and drawing it, milliseconds. */
  openMs: 15_000,
  countMs: 12_000,
  drawMs: 30_000,
} as const;

/** Why a PDF is refused, as the last part of its code. */
export type PdfFault =
  | 'too-big'
  | 'broken'
  | 'locked'
  | 'too-many-pages'
  | 'page-broken'
  | 'page-too-large'
  | 'too-many-operators'
  | 'picture-too-large'
  | 'too-much-memory'
  | 'too-slow';

/** What each refusal says of its limit. */
const LIMIT_SAID: Partial<Record<PdfFault, Problem['params']>> = {
  'too-big': { most: PDF_LIMITS.fileBytes / 1e6 },
  'too-many-pages': { most: PDF_LIMITS.pages },
  'page-too-large': { mostM: PDF_LIMITS.pageSideM },
  'too-many-operators': { most: PDF_LIMITS.operators, mostCorners: PDF_LIMITS.pathPoints },
  'picture-too-large': { most: PDF_LIMITS.picturePixels / 1e6 },
};

/**
 * The refusal of a PDF, or of the page of it that was asked for.
 *
 * @param pageNumber counted from 1; null where it is the whole file
 */
export function pdfProblem(
  fault: PdfFault,
  fileName: string,
  pageNumber: number | null = null,
  params: Problem['params'] = {},
): Problem {
  return {
    code: `exchange.pdf-${fault}`,
    severity: 'stop',
    where: { file: pageNumber === null ? fileName : `${fileName}, page ${pageNumber}` },
    params: { ...LIMIT_SAID[fault], ...params },
  };
}
