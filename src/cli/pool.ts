import { Worker } from 'node:worker_threads';
import type { BatchItem, DesignOne } from './batch';

/** A plan that takes longer than this is given up, so that it cannot hold the others. */
const LONGEST_S = 600;

/** What a worker is sent, and what it answers. */
export interface PoolTask {
  readonly item: BatchItem;
  readonly folder: string;
}
export interface PoolAnswer {
  readonly exitCode: number;
  readonly message: string;
}

export interface Pool {
  readonly designOne: DesignOne;
  readonly close: () => Promise<void>;
}

/**
 * Threads that design one plan each at a time. A thread that crashes, runs out of memory or takes too long is dropped and
 * its plan rejected; the next plan gets a fresh one.
 *
 * @param script  the built program; run as a worker it answers `PoolTask` with `PoolAnswer`
 */
export function startPool(script: URL, workerData: unknown): Pool {
  const idle: Worker[] = [];
  const all = new Set<Worker>();
  const take = (): Worker => {
    const waiting = idle.pop();
    if (waiting) return waiting;
    const worker = new Worker(script, { workerData, resourceLimits: { maxOldGenerationSizeMb: 2048 } });
    worker.on('error', () => drop(worker));
    all.add(worker);
    return worker;
  };
  const drop = (worker: Worker): void => {
    all.delete(worker);
    const at = idle.indexOf(worker);
    if (at >= 0) idle.splice(at, 1);
    void worker.terminate();
  };
  return {
    designOne: (item, folder) => {
      const worker = take();
      return new Promise<PoolAnswer>((resolve, reject) => {
        const settle = (end: () => void): void => {
          clearTimeout(timer);
          worker
            .removeAllListeners('message')
            .removeListener('error', onError)
            .removeListener('exit', onExit);
          end();
        };
        const fail = (message: string): void =>
          settle(() => {
            drop(worker);
            reject(new Error(message));
          });
        const onError = (error: Error): void => fail(`The plan stopped its worker: ${error.message}`);
        const onExit = (): void => fail('The worker ended before the plan was done.');
        const timer = setTimeout(() => fail(`Given up after ${LONGEST_S} s.`), LONGEST_S * 1000);
        worker.on('error', onError).on('exit', onExit);
        worker.on('message', (answer: PoolAnswer) =>
          settle(() => {
            idle.push(worker);
            resolve(answer);
          }),
        );
        worker.postMessage({ item, folder } satisfies PoolTask);
      });
    },
    close: async () => {
      await Promise.all([...all].map((worker) => worker.terminate()));
    },
  };
}
