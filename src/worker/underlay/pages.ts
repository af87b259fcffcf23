import * as pdf from 'pdfjs-dist/legacy/build/pdf.mjs';
import { PDF_LIMITS, type PdfFault, pdfProblem } from '../../core/exchange';
import { METRES_PER_INCH, type Problem } from '../../core/units';
import { Layers, NoFilters, TooManyLayers } from './layers';
import type { DrawnPage } from './protocol';
import type { LimitPassed, PageBegins } from './readerLimits';

/** Pixels to an inch of paper: enough to trace a thin line, no more. */
const FINEST_PER_INCH = 200;
const POINTS_PER_INCH = 72;
/** A picture larger than this is packed with a little loss, bytes. */
const MOST_LOSSLESS_BYTES = 10_000_000;

/** A refusal on its way out of the library's promises. */
export class Refusal extends Error {
  readonly problem: Problem;

  constructor(problem: Problem) {
    super(problem.code);
    this.problem = problem;
  }
}

/** An open PDF whose pages can be drawn. */
export interface Pages {
  readonly count: number;
  /** One page as a picture. Rejects with a `Refusal`. */
  draw(pageNumber: number): Promise<DrawnPage>;
}

/** The worker that reads a PDF's bytes. */
interface Reader {
  /** Rejects with the refusal of the limit that was passed. */
  readonly passed: Promise<never>;
  begin(page: PageBegins['rillsheetPage']): void;
}

/** Rejects as soon as the reader passes a limit, or breaks. */
function limitOf(port: Worker, fileName: string): Promise<never> {
  const passed = new Promise<never>((_, reject) => {
    const refuse = (fault: PdfFault): void => reject(new Refusal(pdfProblem(fault, fileName)));
    port.addEventListener('message', ({ data }: MessageEvent<Partial<LimitPassed> | null>) => {
      if (data?.rillsheetLimit) refuse(data.rillsheetLimit);
    });
    port.addEventListener('error', () => refuse('broken'));
  });
  // What nobody waits for at the moment is no bug.
  passed.catch(() => undefined);
  return passed;
}

/** The size to draw a page at: fine, but within what a plan carries and a canvas holds. Throws a `Refusal` for a page of no paper's size. */
function fittedScale(widthPt: number, heightPt: number, fileName: string, pageNumber: number): number {
  const metres = (points: number): number => (points / POINTS_PER_INCH) * METRES_PER_INCH;
  const longestM = metres(Math.max(widthPt, heightPt));
  if (!(longestM <= PDF_LIMITS.pageSideM)) {
    const size = { widthM: metres(widthPt), heightM: metres(heightPt) };
    throw new Refusal(pdfProblem('page-too-large', fileName, pageNumber, size));
  }
  return Math.min(
    FINEST_PER_INCH / POINTS_PER_INCH,
    Math.sqrt(PDF_LIMITS.drawnPixels / (widthPt * heightPt)),
    PDF_LIMITS.drawnSidePx / Math.max(widthPt, heightPt),
  );
}

async function packed(canvas: OffscreenCanvas): Promise<Blob> {
  const lossless = await canvas.convertToBlob({ type: 'image/png' });
  return lossless.size < MOST_LOSSLESS_BYTES
    ? lossless
    : canvas.convertToBlob({ type: 'image/jpeg', quality: 0.85 });
}

/** The first of the two to settle; a refusal where neither does in time. */
async function within(ms: number, fileName: string, either: readonly Promise<unknown>[]): Promise<void> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Refusal(pdfProblem('too-slow', fileName))), ms);
  });
  try {
    await Promise.race([...either, late]);
  } finally {
    clearTimeout(timer);
  }
}

async function drawPage(
  page: pdf.PDFPageProxy,
  layers: Layers,
  fileName: string,
  reader: Reader,
): Promise<DrawnPage> {
  const paper = page.getViewport({ scale: 1 });
  const scale = fittedScale(paper.width, paper.height, fileName, page.pageNumber);
  // Everything is counted before anything is drawn.
  reader.begin('counted');
  await within(PDF_LIMITS.countMs, fileName, [page.getOperatorList({ intent: 'print' }), reader.passed]);
  page.cleanup();
  const viewport = page.getViewport({ scale });
  const width = Math.max(1, Math.floor(viewport.width));
  const height = Math.max(1, Math.floor(viewport.height));
  const { canvas, context } = layers.create(width, height);
  if (canvas === null || context === null) throw new Error('no canvas to draw on');
  reader.begin('drawn');
  const task = page.render({
    canvas: null,
    canvasContext: context as unknown as CanvasRenderingContext2D,
    viewport,
    background: 'white',
    intent: 'print',
  });
  await Promise.race([task.promise, reader.passed]);
  return {
    blob: await packed(canvas),
    widthPx: width,
    heightPx: height,
    paperMetresPerPixel: METRES_PER_INCH / (POINTS_PER_INCH * scale),
  };
}

/** What a failure of the library means to a person. */
function refusalOf(
  error: unknown,
  otherwise: PdfFault,
  fileName: string,
  pageNumber: number | null,
): Refusal {
  if (error instanceof Refusal) {
    const { code, params } = error.problem;
    const fault = code.slice('exchange.pdf-'.length) as PdfFault;
    return new Refusal(pdfProblem(fault, fileName, pageNumber, params));
  }
  const name = error instanceof Error ? error.name : '';
  const fault =
    error instanceof TooManyLayers ? 'too-much-memory' : name === 'PasswordException' ? 'locked' : otherwise;
  return new Refusal(pdfProblem(fault, fileName, pageNumber));
}

/**
 * Opens a PDF without running anything it carries, its bytes read by `port`, a worker of their own.
 * Rejects with a `Refusal` where it is no PDF, is locked by a password, or passes a limit.
 */
export async function openPages(
  bytes: Uint8Array<ArrayBuffer>,
  fileName: string,
  port: Worker,
): Promise<Pages> {
  if (bytes.length > PDF_LIMITS.fileBytes) throw new Refusal(pdfProblem('too-big', fileName));
  const reader: Reader = {
    passed: limitOf(port, fileName),
    begin: (page) => port.postMessage({ rillsheetPage: page } satisfies PageBegins),
  };
  const layers = new Layers();
  const loading = pdf.getDocument({
    data: bytes,
    worker: pdf.PDFWorker.create({ port }),
    CanvasFactory: class {
      create = layers.create.bind(layers);
      reset = layers.reset.bind(layers);
      destroy = layers.destroy.bind(layers);
    },
    FilterFactory: NoFilters,
    isEvalSupported: false,
    isImageDecoderSupported: false,
    disableFontFace: true,
    useSystemFonts: false,
    useWorkerFetch: false,
    useWasm: false,
    enableXfa: false,
    stopAtErrors: false,
    maxImageSize: PDF_LIMITS.picturePixels,
  });
  const document = await Promise.race([loading.promise, reader.passed]).catch((error: unknown) => {
    throw refusalOf(error, 'broken', fileName, null);
  });
  const count = document.numPages;
  if (count > PDF_LIMITS.pages) throw new Refusal(pdfProblem('too-many-pages', fileName));
  return {
    count,
    async draw(pageNumber) {
      try {
        const page = await Promise.race([document.getPage(pageNumber), reader.passed]);
        return await drawPage(page, layers, fileName, reader);
      } catch (error) {
        throw refusalOf(error, 'page-broken', fileName, pageNumber);
      }
    },
  };
}
