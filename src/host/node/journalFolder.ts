import { createHash } from 'node:crypto';
import { type FileHandle, mkdir, open, readdir, readFile, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Answer, JournalEntry, RecoveredPlan } from '../contract';
import { faultOf } from './safeWrite';

const IDLE_SYNC_MS = 1000;
const BUSY_SYNC_MS = 2000;
const MAX_JOURNAL_BYTES = 256_000_000;

const hashOf = (text: string, length: number): string =>
  createHash('sha256').update(text).digest('hex').slice(0, length);

interface OpenJournal {
  readonly file: FileHandle;
  firstUnsyncedMs: number;
  timer: NodeJS.Timeout | null;
}

/** One line as kept: a checksum, then plan, entry, name, and 1 where a story begins. A line cut by a fall of the machine fails its checksum. */
const sealLine = (entry: JournalEntry): string => {
  const body = JSON.stringify([entry.planId, entry.line, entry.name ?? '', entry.begins ? 1 : 0]);
  return `${hashOf(body, 12)} ${body}\n`;
};

/** Null for a line that was cut or changed. */
function unsealLine(line: string): Required<JournalEntry> | null {
  const body = line.slice(13);
  if (line[12] !== ' ' || hashOf(body, 12) !== line.slice(0, 12)) return null;
  const [planId, entry, name, begins] = JSON.parse(body) as [string, string, string?, number?];
  return { planId, line: entry, name: name ?? '', begins: begins === 1 };
}

/** The last story of a journal, up to its first line that was cut or changed. */
function lastStory(text: string): readonly JournalEntry[] {
  let told: JournalEntry[] = [];
  let isCut = false;
  for (const line of text.split('\n')) {
    if (line === '') continue;
    const entry = unsealLine(line);
    if (entry === null) isCut = true;
    else if (entry.begins) {
      told = [entry];
      isCut = false;
    } else if (!isCut) told.push(entry);
  }
  return told;
}

/** The recovery journal: what was done since the last save, one file a plan, gone after a clean close. */
export interface JournalFolder {
  /** Refused, in the system's words, where the line could not be kept, and from then on until a line begins a story anew. */
  readonly append: (entry: JournalEntry) => Promise<Answer<null>>;
  readonly read: () => Promise<readonly RecoveredPlan[]>;
  readonly clear: (planId: string) => Promise<void>;
  /** Syncs and closes all that is open. */
  readonly close: () => Promise<void>;
}

async function openJournal(path: string): Promise<OpenJournal> {
  const file = await open(path, 'a+', 0o600);
  try {
    const { size } = await file.stat();
    const last = new Uint8Array(1);
    if (size > 0) await file.read(last, 0, 1, size - 1);
    // A line that was cut must not swallow the next one.
    if (size > 0 && last[0] !== 10) await file.appendFile('\n');
  } catch (error) {
    await file.close();
    throw error;
  }
  return { file, firstUnsyncedMs: 0, timer: null };
}

function syncLater(journal: OpenJournal): void {
  const now = Date.now();
  if (journal.timer === null) journal.firstUnsyncedMs = now;
  else clearTimeout(journal.timer);
  const waitMs = Math.max(0, Math.min(IDLE_SYNC_MS, journal.firstUnsyncedMs + BUSY_SYNC_MS - now));
  journal.timer = setTimeout(() => {
    journal.timer = null;
    journal.file.sync().catch(() => undefined);
  }, waitMs);
}

/**
 * A journal in `folder`. A line reaches the system at once and the disk within a second of rest, two seconds of steady work.
 */
export function createJournalFolder(folder: string): JournalFolder {
  const journals = new Map<string, OpenJournal>();
  /** The last thing asked of each plan's journal: lines keep their order. */
  const queues = new Map<string, Promise<unknown>>();
  /** Why lines of a plan are refused until its story begins anew. */
  const broken = new Map<string, { readonly code: string; readonly detail: string }>();
  const pathOf = (planId: string): string => join(folder, `${hashOf(planId, 24)}.journal`);

  const inTurn = <T>(planId: string, act: () => Promise<T>): Promise<T> => {
    const turn = (queues.get(planId) ?? Promise.resolve()).then(act);
    queues.set(
      planId,
      turn.catch(() => undefined),
    );
    return turn;
  };
  const closeOne = async (planId: string): Promise<void> => {
    const journal = journals.get(planId);
    journals.delete(planId);
    if (journal === undefined) return;
    if (journal.timer !== null) clearTimeout(journal.timer);
    await journal.file.sync().catch(() => undefined);
    await journal.file.close().catch(() => undefined);
  };
  const appendOne = async (entry: JournalEntry): Promise<Answer<null>> => {
    const why = broken.get(entry.planId);
    if (why !== undefined && !entry.begins) return { kind: 'refused', ...why };
    try {
      let journal = journals.get(entry.planId);
      if (journal === undefined) {
        await mkdir(folder, { recursive: true });
        journal = await openJournal(pathOf(entry.planId));
        journals.set(entry.planId, journal);
      }
      await journal.file.appendFile(sealLine(entry));
      syncLater(journal);
      broken.delete(entry.planId);
      return { kind: 'done', value: null };
    } catch (error) {
      await closeOne(entry.planId);
      const detail = error instanceof Error ? error.message : String(error);
      const refusal = { code: faultOf(error), detail };
      broken.set(entry.planId, refusal);
      return { kind: 'refused', ...refusal };
    }
  };
  return {
    append: (entry) => inTurn(entry.planId, () => appendOne(entry)),
    async read() {
      const names = (await readdir(folder).catch(() => []))
        .filter((name) => name.endsWith('.journal'))
        .sort();
      const found: RecoveredPlan[] = [];
      for (const name of names) {
        const path = join(folder, name);
        const size = (await stat(path).catch(() => null))?.size ?? 0;
        if (size === 0 || size > MAX_JOURNAL_BYTES) continue;
        const entries = lastStory(await readFile(path, 'utf8').catch(() => ''));
        const first = entries[0];
        if (first === undefined) continue;
        const called = entries.findLast((entry) => entry.name)?.name ?? first.planId;
        found.push({ planId: first.planId, name: called, lines: entries.map((entry) => entry.line) });
      }
      return found;
    },
    clear: (planId) =>
      inTurn(planId, async () => {
        await closeOne(planId);
        broken.delete(planId);
        await rm(pathOf(planId), { force: true });
      }),
    async close() {
      for (const planId of [...queues.keys()]) await inTurn(planId, () => closeOne(planId));
    },
  };
}
