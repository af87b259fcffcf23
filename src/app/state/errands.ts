import type { Errand, ErrandAnswer, ErrandGiven, ErrandKind, ErrandResult } from '../../worker';
import { during } from './busy';

/** A worker that has done its job and waits for the next: starting one takes longer than most jobs. */
let idle: Worker | null = null;

const startWorker = (): Worker =>
  new Worker(new URL('../../worker/errandMain.ts', import.meta.url), { type: 'module' });

/**
 * Has a job done outside the window's thread. Rejects with the broken claim where it had a bug, and with the signal's reason where it
 * was stopped; a stopped job's worker ends at once.
 */
export function runErrand<K extends ErrandKind>(
  kind: K,
  given: ErrandGiven<K>,
  signal: AbortSignal,
): Promise<ErrandResult<K>> {
  return new Promise((resolve, reject) => {
    if (signal.aborted) {
      reject(signal.reason);
      return;
    }
    const worker = idle ?? startWorker();
    idle = null;
    const stop = (): void => {
      worker.terminate();
      reject(signal.reason);
    };
    signal.addEventListener('abort', stop, { once: true });
    worker.onerror = (event) => {
      signal.removeEventListener('abort', stop);
      worker.terminate();
      reject(new Error(event.message));
    };
    worker.onmessage = (event: MessageEvent<ErrandAnswer<K>>) => {
      signal.removeEventListener('abort', stop);
      if (idle === null) idle = worker;
      else worker.terminate();
      if (event.data.kind === 'done') resolve(event.data.result);
      else reject(new Error(event.data.claim));
    };
    worker.postMessage({ kind, given } satisfies Errand<K>);
  });
}

/** The same, shown at the head of the sketch, where it can be stopped. Null where it was. */
export const runShown = <K extends ErrandKind>(
  label: string,
  kind: K,
  given: ErrandGiven<K>,
): Promise<ErrandResult<K> | null> => during(label, (signal) => runErrand(kind, given, signal));
