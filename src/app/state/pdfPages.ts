import * as pdf from 'pdfjs-dist/legacy/build/pdf.mjs';
import PdfWorker from 'pdfjs-dist/legacy/build/pdf.worker.mjs?worker';
import { METRES_PER_INCH } from '../../core/units';

/** A page rendered larger than this would not fit a plan file, pixels. */
const MOST_PIXELS = 12_000_000;
/** Pixels to an inch of paper: enough to trace a thin line, no more. */
const FINEST_PER_INCH = 200;
/** A page that is not drawn by then is given up, milliseconds. */
const LONGEST_MS = 30_000;
const POINTS_PER_INCH = 72;

/** A PDF whose pages can be drawn, read in a worker of its own that goes when it is closed. */
export interface PdfPages {
  readonly count: number;
  /** One page as a picture. Rejects where the page is broken, takes too long, or `signal` stops it. */
  draw(pageNumber: number, signal: AbortSignal): Promise<DrawnPage>;
  close(): void;
}

export interface DrawnPage {
  readonly canvas: HTMLCanvasElement;
  /** Metres of paper to a pixel: the page's own size, before any scale printed on it. */
  readonly paperMetresPerPixel: number;
}

/** Opens a PDF without running anything it carries. Rejects where it is no PDF, or is locked by a password. */
export async function openPdf(bytes: Uint8Array): Promise<PdfPages> {
  const port = new PdfWorker();
  pdf.GlobalWorkerOptions.workerPort = port;
  const loading = pdf.getDocument({
    data: bytes.slice(),
    isEvalSupported: false,
    disableFontFace: true,
    useSystemFonts: false,
    useWasm: false,
    enableXfa: false,
    stopAtErrors: false,
    maxImageSize: MOST_PIXELS * 4,
  });
  const close = (): void => {
    void loading.destroy().finally(() => port.terminate());
    pdf.GlobalWorkerOptions.workerPort = null;
  };
  const document = await loading.promise.catch((error: unknown) => {
    close();
    throw error;
  });
  return {
    count: document.numPages,
    async draw(pageNumber, signal) {
      const page = await document.getPage(pageNumber);
      const paper = page.getViewport({ scale: 1 });
      const most = Math.sqrt(MOST_PIXELS / (paper.width * paper.height));
      const scale = Math.min(FINEST_PER_INCH / POINTS_PER_INCH, most);
      const viewport = page.getViewport({ scale });
      const canvas = window.document.createElement('canvas');
      canvas.width = Math.max(1, Math.floor(viewport.width));
      canvas.height = Math.max(1, Math.floor(viewport.height));
      const task = page.render({ canvas, viewport, background: 'white', intent: 'print' });
      const stop = (): void => task.cancel();
      const timer = setTimeout(stop, LONGEST_MS);
      signal.addEventListener('abort', stop);
      try {
        await task.promise;
      } finally {
        clearTimeout(timer);
        signal.removeEventListener('abort', stop);
        page.cleanup();
      }
      return { canvas, paperMetresPerPixel: METRES_PER_INCH / (POINTS_PER_INCH * scale) };
    },
    close,
  };
}
