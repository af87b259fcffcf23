import { createHash } from 'node:crypto';
import { type FileHandle, mkdir, open, readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { JournalEntry, RecoveredPlan } from '../contract';

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

/** One line as kept: a checksum, the plan's id, the entry. A line cut by a fall of the machine fails its checksum. */
const sealLine = (entry: JournalEntry): string => {
  const body = JSON.stringify([entry.planId, entry.line]);
  return `${hashOf(body, 12)} ${body}\n`;
};

/** Entries up to the first line that was cut or changed. */
function readSealedLines(text: string): JournalEntry[] {
  const entries: JournalEntry[] = [];
  for (const line of text.split('\n')) {
    const body = line.slice(13);
    if (line === '' || line[12] !== ' ' || hashOf(body, 12) !== line.slice(0, 12)) break;
    const [planId, entry] = JSON.parse(body) as [string, string];
    entries.push({ planId, line: entry });
  }
  return entries;
}

/** The recovery journal: what was done since the last save, one file a plan, gone after a clean close. */
export interface JournalFolder {
  readonly append: (entry: JournalEntry) => Promise<void>;
  readonly read: () => Promise<readonly RecoveredPlan[]>;
  readonly clear: (planId: string) => Promise<void>;
  /** Syncs and closes all that is open. */
  readonly close: () => Promise<void>;
}

/**
 * A journal in `folder`. A line reaches the system at once and the disk within a second of rest, two seconds of steady work.
 */
export function createJournalFolder(folder: string): JournalFolder {
  const journals = new Map<string, Promise<OpenJournal>>();
  const pathOf = (planId: string): string => join(folder, `${hashOf(planId, 24)}.journal`);

  const openOne = async (planId: string): Promise<OpenJournal> => {
    await mkdir(folder, { recursive: true });
    return { file: await open(pathOf(planId), 'a', 0o600), firstUnsyncedMs: 0, timer: null };
  };
  const syncLater = (journal: OpenJournal): void => {
    const now = Date.now();
    if (journal.timer === null) journal.firstUnsyncedMs = now;
    else clearTimeout(journal.timer);
    const waitMs = Math.max(0, Math.min(IDLE_SYNC_MS, journal.firstUnsyncedMs + BUSY_SYNC_MS - now));
    journal.timer = setTimeout(() => {
      journal.timer = null;
      journal.file.sync().catch(() => undefined);
    }, waitMs);
  };
  const closeOne = async (planId: string): Promise<void> => {
    const journal = await journals.get(planId);
    journals.delete(planId);
    if (journal === undefined) return;
    if (journal.timer !== null) clearTimeout(journal.timer);
    await journal.file.sync().catch(() => undefined);
    await journal.file.close();
  };
  return {
    async append(entry) {
      const opening = journals.get(entry.planId) ?? openOne(entry.planId);
      journals.set(entry.planId, opening);
      const journal = await opening;
      await journal.file.appendFile(sealLine(entry));
      syncLater(journal);
    },
    async read() {
      const names = (await readdir(folder).catch(() => []))
        .filter((name) => name.endsWith('.journal'))
        .sort();
      const found: RecoveredPlan[] = [];
      for (const name of names) {
        const text = await readFile(join(folder, name), 'utf8').catch(() => '');
        const entries = text.length > MAX_JOURNAL_BYTES ? [] : readSealedLines(text);
        const first = entries[0];
        if (first !== undefined)
          found.push({ planId: first.planId, name: first.planId, lines: entries.map((entry) => entry.line) });
      }
      return found;
    },
    async clear(planId) {
      await closeOne(planId);
      await rm(pathOf(planId), { force: true });
    },
    async close() {
      for (const planId of [...journals.keys()]) await closeOne(planId);
    },
  };
}
