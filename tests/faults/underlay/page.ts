import { startUnderlayWorker } from '../../../src/app/state/underlayWorker';
import type { Problem } from '../../../src/core/units';

/** What came of one underlay, as the window saw it. */
export interface UnderlayTrial {
  readonly came: string;
  readonly problem: Problem | null;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Longest time that the window did not get its turn, milliseconds. */
  readonly longestSilenceMs: number;
  /** From the file's bytes to the answer, milliseconds by the wall. */
  readonly tookMs: number;
}

async function attempt(
  bytes: Uint8Array<ArrayBuffer>,
  fileName: string,
): Promise<Omit<UnderlayTrial, 'longestSilenceMs' | 'tookMs'>> {
  const worker = startUnderlayWorker(fileName);
  const nothing = { problem: null, widthPx: 0, heightPx: 0 };
  try {
    if (!fileName.endsWith('.pdf')) {
      const measured = await worker.ask<'measure'>({ kind: 'measure', bytes, fileName });
      if (measured.kind === 'refused')
        return { ...nothing, came: measured.problem.code, problem: measured.problem };
      return measured.kind === 'done'
        ? { ...nothing, came: 'drawn', ...measured.result }
        : { ...nothing, came: measured.claim };
    }
    const opened = await worker.ask<'open'>({ kind: 'open', bytes, fileName });
    const drawn = opened.kind === 'done' ? await worker.ask<'draw'>({ kind: 'draw', pageNumber: 1 }) : opened;
    if (drawn.kind === 'refused') return { ...nothing, came: drawn.problem.code, problem: drawn.problem };
    if (drawn.kind === 'failed') return { ...nothing, came: drawn.claim };
    const { widthPx, heightPx } = drawn.result;
    return { ...nothing, came: 'drawn', widthPx, heightPx };
  } catch (error) {
    return { ...nothing, came: `failed: ${String(error)}` };
  } finally {
    worker.close();
  }
}

async function tryUnderlay(address: string, fileName: string): Promise<UnderlayTrial> {
  const bytes = new Uint8Array(await (await fetch(address)).arrayBuffer());
  let longestSilenceMs = 0;
  let last = performance.now();
  const clock = setInterval(() => {
    const now = performance.now();
    longestSilenceMs = Math.max(longestSilenceMs, now - last);
    last = now;
  }, 5);
  const begun = last;
  const trial = await attempt(bytes, fileName);
  clearInterval(clock);
  const ended = performance.now();
  return {
    ...trial,
    longestSilenceMs: Math.round(Math.max(longestSilenceMs, ended - last)),
    tookMs: Math.round(ended - begun),
  };
}

Object.assign(window, { tryUnderlay });
