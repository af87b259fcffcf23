import { availableParallelism } from 'node:os';
import type { MessagePort } from 'node:worker_threads';
import type { Design } from '../core/design';
import type { FontBytes } from '../render';
import { runBatch } from './batch';
import { type DesignCommandOptions, runDesign } from './designCommand';
import { type PoolAnswer, type PoolTask, startPool } from './pool';

/** Options of one plan that hold for all of a batch. */
export type SharedOptions = Omit<DesignCommandOptions, 'file' | 'out' | 'text'>;

/** Longest message of one result: a batch's results are read by the thousand. */
const LONGEST_MESSAGE = 500;

/** Designs many plans over threads of this program's own script; results go out as lines of JSON. */
export async function runBatchCommand(
  given: {
    readonly source: string;
    readonly out: string;
    readonly jobs: number | null;
    readonly shared: SharedOptions;
  },
  script: URL,
  say: { readonly out: (text: string) => void; readonly progress: (text: string) => void },
): Promise<number> {
  const pool = startPool(script, given.shared);
  try {
    return await runBatch(
      {
        source: given.source,
        out: given.out,
        jobs: given.jobs ?? availableParallelism(),
        settings: JSON.stringify(given.shared),
      },
      { designOne: pool.designOne, result: say.out, progress: say.progress },
    );
  } finally {
    await pool.close();
  }
}

/** The worker's side: designs each plan it is sent and answers with what became of it. */
export function answerTasks(
  port: MessagePort,
  shared: SharedOptions,
  readFonts: () => Promise<FontBytes>,
): void {
  port.on('message', async ({ item, folder }: PoolTask) => {
    let said = '';
    let designed: Design | null = null;
    const exitCode = await runDesign(
      { ...shared, file: item.file, text: item.text, out: folder, force: true, json: false },
      {
        out: () => undefined,
        progress: (text) => {
          said = text;
        },
        readFonts,
        designed: (design) => {
          designed = design;
        },
      },
    );
    const message = (designed === null ? said : summaryOf(designed)).trim().slice(0, LONGEST_MESSAGE);
    port.postMessage({ exitCode, message } satisfies PoolAnswer);
  });
}

function summaryOf({ beds, supply, findings }: Design): string {
  const stops = findings.filter((finding) => finding.severity === 'stop').length;
  const checks = findings.filter((finding) => finding.severity === 'warn').length;
  return `${beds.length} beds, ${supply.zones.length} zones, ${stops} to stop for, ${checks} to check`;
}
