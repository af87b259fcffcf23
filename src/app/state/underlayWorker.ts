import { PDF_LIMITS, pdfProblem, pictureProblem } from '../../core/exchange';
import type { UnderlayAnswer, UnderlayOrder } from '../../worker';

/** Longest that each order may take before its worker is ended, milliseconds. */
const LONGEST_MS: Readonly<Record<UnderlayOrder['kind'], number>> = {
  measure: PDF_LIMITS.openMs,
  decode: PDF_LIMITS.openMs,
  open: PDF_LIMITS.openMs,
  draw: PDF_LIMITS.drawMs,
};

type OrderOf<K extends UnderlayOrder['kind']> = Extract<UnderlayOrder, { readonly kind: K }>;

/** Reads one picture or PDF outside the window's thread. Whatever happens in it, the window answers. */
export interface UnderlayWorker {
  /** Rejects with the broken claim of a bug, or where `signal` stops it; either way the worker is ended. */
  ask<K extends UnderlayOrder['kind']>(order: OrderOf<K>, signal?: AbortSignal): Promise<UnderlayAnswer<K>>;
  /** Ends the worker, and with it all memory that it took. */
  close(): void;
}

/** Starts a worker for one file. */
export function startUnderlayWorker(fileName: string): UnderlayWorker {
  const worker = new Worker(new URL('../../worker/underlay/underlayMain.ts', import.meta.url), {
    type: 'module',
  });
  const close = (): void => worker.terminate();
  return {
    ask<K extends UnderlayOrder['kind']>(order: OrderOf<K>, signal?: AbortSignal) {
      return new Promise<UnderlayAnswer<K>>((resolve, reject) => {
        const isPdf = order.kind === 'open' || order.kind === 'draw';
        const page = order.kind === 'draw' ? (order as OrderOf<'draw'>).pageNumber : null;
        const settle = (end: () => void): void => {
          clearTimeout(timer);
          signal?.removeEventListener('abort', stop);
          end();
        };
        const stop = (): void =>
          settle(() => {
            close();
            reject(signal?.reason);
          });
        const timer = setTimeout(() => {
          const problem = isPdf
            ? pdfProblem('too-slow', fileName, page)
            : pictureProblem('picture-too-slow', fileName);
          settle(() => {
            close();
            resolve({ kind: 'refused', problem });
          });
        }, LONGEST_MS[order.kind]);
        signal?.addEventListener('abort', stop);
        worker.onerror = (event) =>
          settle(() => {
            close();
            reject(new Error(event.message));
          });
        worker.onmessage = ({ data }: MessageEvent<UnderlayAnswer<K>>) => settle(() => resolve(data));
        worker.postMessage(order);
      });
    },
    close,
  };
}
