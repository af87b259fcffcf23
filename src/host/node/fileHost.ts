import { createHash } from 'node:crypto';
import { mkdir, readFile, realpath, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import type {
  Answer,
  FileKind,
  FileToken,
  JournalEntry,
  OpenedFile,
  RecentFile,
  RecoveredPlan,
} from '../contract';
import { createFileTokens } from './fileTokens';
import { createJournalFolder } from './journalFolder';
import { createMemory, type Memory } from './memory';
import { createOpenMarks } from './openMarks';
import { readRecent, rememberRecent } from './recentFiles';
import { sweepUnfinished, writeSafely } from './safeWrite';

/** How this host asks a person for a place. */
export interface Chooser {
  openPath(kinds: readonly FileKind[]): Promise<string | null>;
  savePath(suggestedName: string): Promise<string | null>;
}

/** The file side of the contract on a real disk, shared by the desktop shell and the loopback server. */
export interface FileHost extends Memory {
  open(kinds: readonly FileKind[]): Promise<Answer<OpenedFile>>;
  /** Opens a place named by the person or the system, not by the page. */
  openPath(path: string): Promise<Answer<OpenedFile>>;
  recent(): Promise<readonly RecentFile[]>;
  openRecent(token: unknown): Promise<Answer<OpenedFile>>;
  save(token: unknown, suggestedName: string, bytes: Uint8Array): Promise<Answer<FileToken | null>>;
  saveAs(suggestedName: string, bytes: Uint8Array): Promise<Answer<FileToken | null>>;
  exportBytes(suggestedName: string, bytes: Uint8Array): Promise<Answer<null>>;
  journalAppend(entry: JournalEntry): Promise<Answer<null>>;
  journalRead(): Promise<readonly RecoveredPlan[]>;
  journalClear(planId: string): Promise<void>;
  close(): Promise<void>;
}

const MAX_FILE_BYTES = 64_000_000;
const cancelled = { kind: 'cancelled' } as const;
const refused = (code: string, detail: string) => ({ kind: 'refused', code, detail }) as const;
const digest = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** A file's name from a title: no folders, nothing a disk refuses, never empty. */
export function safeFileName(suggestedName: string): string {
  const plain = basename(suggestedName.replaceAll('\\', '/'))
    .replace(/[\p{Cc}<>:"|?*/\\]/gu, '')
    .replace(/^[. ]+|[. ]+$/g, '')
    .slice(0, 120);
  return plain === '' ? 'plan.json' : plain;
}

/**
 * @param dataFolder the program's own folder: recent list, journal, and what the desk remembers
 * @param now ISO 8601 time for the recent list
 */
export function createFileHost(options: {
  readonly dataFolder: string;
  readonly chooser: Chooser;
  readonly now: () => string;
}): FileHost {
  const { dataFolder, chooser, now } = options;
  const tokens = createFileTokens();
  const journal = createJournalFolder(join(dataFolder, 'journal'));
  const marks = createOpenMarks(join(dataFolder, 'open'));
  /** Digest of the file as each opening of it last saw it, by token. */
  const lastSeen = new Map<string, string>();
  const rememberQuietly = async (path: string): Promise<void> => {
    // A recent list that cannot be kept is no reason to refuse the file.
    await mkdir(dataFolder, { recursive: true })
      .then(() => rememberRecent(dataFolder, path, now()))
      .catch(() => undefined);
  };

  const openPath = async (path: string): Promise<Answer<OpenedFile>> => {
    try {
      const found = await stat(path);
      if (!found.isFile()) return refused('host.not-a-file', basename(path));
      if (found.size > MAX_FILE_BYTES) return refused('host.too-large', `${found.size} bytes`);
      const bytes = new Uint8Array(await readFile(path));
      await sweepUnfinished(dirname(await realpath(path)));
      await rememberQuietly(path);
      const isOpenElsewhere = await marks.open(path).catch(() => false);
      const file = tokens.grantOpening(path);
      lastSeen.set(file.token, digest(bytes));
      return { kind: 'done', value: { file, name: file.name, bytes, isOpenElsewhere } };
    } catch (error) {
      return refused('host.cannot-read', wordsOf(error));
    }
  };
  const write = async (path: string, token: string | null, bytes: Uint8Array): Promise<Answer<FileToken>> => {
    const result = await writeSafely(path, bytes);
    if (!result.ok) return refused(result.fault, result.detail);
    await rememberQuietly(path);
    if (token === null) await marks.open(path).catch(() => false);
    const file = token === null ? tokens.grantOpening(path) : { token, name: basename(path) };
    lastSeen.set(file.token, digest(bytes));
    return { kind: 'done', value: file };
  };
  const saveAs = async (suggestedName: string, bytes: Uint8Array): Promise<Answer<FileToken>> => {
    const path = await chooser.savePath(safeFileName(suggestedName));
    return path === null ? cancelled : write(path, null, bytes);
  };
  const isChangedOutside = async (path: string, token: string): Promise<boolean> => {
    const seen = lastSeen.get(token);
    const there = await readFile(path).catch(() => null);
    return seen !== undefined && there !== null && digest(there) !== seen;
  };
  return {
    async open(kinds) {
      const path = await chooser.openPath(kinds);
      return path === null ? cancelled : openPath(path);
    },
    openPath,
    async recent() {
      return (await readRecent(dataFolder)).map(({ path, openedAt }) => ({
        ...tokens.grant(path),
        openedAt,
      }));
    },
    async openRecent(token) {
      const path = tokens.pathOf(token);
      return path === null ? refused('host.unknown-file', 'this file was not chosen here') : openPath(path);
    },
    async save(token, suggestedName, bytes) {
      if (token === null) return saveAs(suggestedName, bytes);
      const path = tokens.pathOf(token);
      if (path === null || typeof token !== 'string')
        return refused('host.unknown-file', 'this file was not chosen here');
      if (await isChangedOutside(path, token)) return refused('host.changed-outside', basename(path));
      return write(path, token, bytes);
    },
    saveAs,
    async exportBytes(suggestedName, bytes) {
      const path = await chooser.savePath(safeFileName(suggestedName));
      if (path === null) return cancelled;
      const result = await writeSafely(path, bytes);
      return result.ok ? { kind: 'done', value: null } : refused(result.fault, result.detail);
    },
    journalAppend: journal.append,
    journalRead: journal.read,
    journalClear: journal.clear,
    ...createMemory(dataFolder),
    async close() {
      await journal.close();
      await marks.close();
    },
  };
}
