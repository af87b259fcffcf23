import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { appendFile, mkdir, readdir, readFile, stat } from 'node:fs/promises';
import { basename, extname, join } from 'node:path';
import { createInterface } from 'node:readline';

/** Keeps what was done in a batch, one line a plan, so that it can go on where it stopped. */
const JOURNAL = '.rillsheet-batch.jsonl';
const STREAM_NAMES = new Set(['.jsonl', '.ndjson', '.geojsonl', '.geojsons']);
/** Leads each record of a GeoJSON text sequence (RFC 8142). */
const RECORD_MARK = 0x1e;
const PLAN_NAMES = new Set(['.json', '.geojson', '.dxf']);

/** One plan of a batch: a file, or the text of one line of a stream. */
export interface BatchItem {
  readonly name: string;
  readonly file: string;
  readonly text: string;
}

/** What became of one plan. Exit codes are those of the single command. */
export interface BatchResult {
  readonly name: string;
  readonly exitCode: number;
  readonly message: string;
}

/** Designs one plan into a folder of its own. A rejection counts against that plan alone. */
export type DesignOne = (item: BatchItem, folder: string) => Promise<{ exitCode: number; message: string }>;

export interface BatchOptions {
  /** A folder of plans, a file with one plan a line, or "-" for such lines on standard input. */
  readonly source: string;
  readonly out: string;
  readonly jobs: number;
  /** Whatever changes the outputs: a plan is done again when it differs from the last time. */
  readonly settings: string;
}

export interface BatchSurroundings {
  readonly designOne: DesignOne;
  /** One result as a line of JSON, as soon as it is there. */
  readonly result: (line: string) => void;
  readonly progress: (text: string) => void;
}

/** True where the command is to design many plans: a folder, a file of lines, or standard input. */
export async function isBatchSource(path: string): Promise<boolean> {
  if (path === '-' || STREAM_NAMES.has(extname(path).toLowerCase())) return true;
  return stat(path).then(
    (found) => found.isDirectory(),
    () => false,
  );
}

/**
 * Designs every plan of a folder or stream, several at a time, each into its own folder below `out`.
 * A plan that fails, hangs or crashes is one line of the results; the others go on. Run again after a stop, it leaves
 * out what the journal holds with the same text and settings.
 * Exit: 0 all designed; 1 none usable; 2 `out` cannot be used; 3 some blocked or unusable.
 */
export async function runBatch(options: BatchOptions, around: BatchSurroundings): Promise<number> {
  const done = await readJournal(options.out);
  if (done === null) {
    around.progress(
      `"${options.out}" holds files that are not of a batch. Nothing was written. Choose another folder.\n`,
    );
    return 2;
  }
  try {
    await mkdir(options.out, { recursive: true });
  } catch (error) {
    around.progress(
      `"${options.out}" cannot be made: ${error instanceof Error ? error.message : String(error)}.\n`,
    );
    return 2;
  }
  const codes: number[] = [];
  let kept = 0;
  const items = itemsOf(options.source);
  const work = async (): Promise<void> => {
    for (let next = await items.next(); !next.done; next = await items.next()) {
      const item = next.value;
      const digest = digestOf(item, options.settings);
      const before = done.get(item.name);
      if (before?.digest === digest) {
        kept += 1;
        codes.push(before.exitCode);
        continue;
      }
      const result = await designSafely(item, options.out, around.designOne);
      await appendFile(join(options.out, JOURNAL), `${JSON.stringify({ ...result, digest })}\n`, {
        flush: true,
      });
      codes.push(result.exitCode);
      around.result(`${JSON.stringify(result)}\n`);
      around.progress(`${codes.length}: ${item.name}: ${WORDS[result.exitCode] ?? 'failed'}\n`);
    }
  };
  await Promise.all(Array.from({ length: Math.max(1, options.jobs) }, work));
  const count = (code: number): number => codes.filter((one) => one === code).length;
  around.progress(
    `${codes.length} plans: ${count(0)} designed, ${count(3)} blocked, ${codes.length - count(0) - count(3)} not usable; ${kept} of them done before.\n`,
  );
  if (codes.every((code) => code === 0)) return codes.length === 0 ? 1 : 0;
  return codes.some((code) => code === 0 || code === 3) ? 3 : 1;
}

const WORDS: Readonly<Record<number, string>> = {
  0: 'designed',
  1: 'not usable',
  2: 'not written',
  3: 'blocked',
};

async function designSafely(item: BatchItem, out: string, designOne: DesignOne): Promise<BatchResult> {
  try {
    const { exitCode, message } = await designOne(item, join(out, item.name));
    return { name: item.name, exitCode, message };
  } catch (error) {
    return { name: item.name, exitCode: 1, message: error instanceof Error ? error.message : String(error) };
  }
}

const digestOf = (item: BatchItem, settings: string): string =>
  createHash('sha256').update(settings).update('\0').update(item.text).digest('hex');

/** What was done before, by plan; null where the folder is in use for something else. A half-written last line is left out. */
async function readJournal(out: string): Promise<Map<string, { digest: string; exitCode: number }> | null> {
  const names = await readdir(out).catch(() => [] as string[]);
  if (names.length === 0) return new Map();
  if (!names.includes(JOURNAL)) return null;
  const text = await readFile(join(out, JOURNAL), 'utf8');
  // Stopped in the middle of a line: the next entry has to begin on one of its own.
  if (text !== '' && !text.endsWith('\n')) await appendFile(join(out, JOURNAL), '\n');
  const lines = text.split('\n');
  const entries = lines.flatMap((line) => {
    try {
      const { name, digest, exitCode } = JSON.parse(line) as Record<string, unknown>;
      const isEntry = typeof name === 'string' && typeof digest === 'string' && typeof exitCode === 'number';
      return isEntry ? [[name, { digest, exitCode }] as const] : [];
    } catch {
      return [];
    }
  });
  return new Map(entries);
}

/** Plans of the source, in order, read only as they are asked for. Workers may ask at the same time. */
async function* itemsOf(source: string): AsyncGenerator<BatchItem, void> {
  const isStream = source === '-' || STREAM_NAMES.has(extname(source).toLowerCase());
  if (!isStream) {
    const files = (await readdir(source))
      .filter((name) => PLAN_NAMES.has(extname(name).toLowerCase()))
      .sort();
    const taken = new Set<string>();
    for (const file of files) {
      const stem = basename(file).replace(/((\.rillsheet)?\.(geo)?json|\.dxf)$/i, '') || 'plan';
      const name = taken.has(stem) ? file : stem;
      taken.add(name);
      const path = join(source, file);
      const text = await readFile(path, 'utf8').catch(() => '');
      yield { name, file: path, text };
    }
    return;
  }
  const input = source === '-' ? process.stdin : createReadStream(source);
  let line = 0;
  for await (const text of createInterface({ input, crlfDelay: Number.POSITIVE_INFINITY })) {
    line += 1;
    if (text.trim() === '') continue;
    const name = `plan-${String(line).padStart(6, '0')}`;
    yield { name, file: name, text: text.charCodeAt(0) === RECORD_MARK ? text.slice(1) : text };
  }
}
