import { createHash } from 'node:crypto';
import { mkdir, readFile, stat } from 'node:fs/promises';
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
import { readRecent, rememberRecent } from './recentFiles';
import { sweepUnfinished, writeSafely } from './safeWrite';

/** How this host asks a person for a place. */
export interface Chooser {
  openPath(kinds: readonly FileKind[]): Promise<string | null>;
  savePath(suggestedName: string): Promise<string | null>;
}

/** The file side of the contract on a real disk, shared by the desktop shell and the loopback server. */
export interface FileHost {
  open(kinds: readonly FileKind[]): Promise<Answer<OpenedFile>>;
  /** Opens a place named by the person or the system, not by the page. */
  openPath(path: string): Promise<Answer<OpenedFile>>;
  recent(): Promise<readonly RecentFile[]>;
  openRecent(token: unknown): Promise<Answer<OpenedFile>>;
  save(token: unknown, suggestedName: string, bytes: Uint8Array): Promise<Answer<FileToken | null>>;
  saveAs(suggestedName: string, bytes: Uint8Array): Promise<Answer<FileToken | null>>;
  exportBytes(suggestedName: string, bytes: Uint8Array): Promise<Answer<null>>;
  journalAppend(entry: JournalEntry): Promise<void>;
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
 * @param dataFolder the program's own folder: recent list and journal
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
  const lastSeen = new Map<string, string>();

  const openPath = async (path: string): Promise<Answer<OpenedFile>> => {
    try {
      const { size } = await stat(path);
      if (size > MAX_FILE_BYTES) return refused('host.too-large', `${size} bytes`);
      const bytes = new Uint8Array(await readFile(path));
      await mkdir(dataFolder, { recursive: true });
      await sweepUnfinished(dirname(path));
      await rememberRecent(dataFolder, path, now());
      lastSeen.set(path, digest(bytes));
      const file = tokens.grant(path);
      return { kind: 'done', value: { file, name: file.name, bytes } };
    } catch (error) {
      return refused('host.cannot-read', wordsOf(error));
    }
  };
  const write = async (path: string, bytes: Uint8Array): Promise<Answer<FileToken>> => {
    const result = await writeSafely(path, bytes);
    if (!result.ok) return refused(result.fault, result.detail);
    lastSeen.set(path, digest(bytes));
    await mkdir(dataFolder, { recursive: true });
    await rememberRecent(dataFolder, path, now());
    return { kind: 'done', value: tokens.grant(path) };
  };
  const saveAs = async (suggestedName: string, bytes: Uint8Array): Promise<Answer<FileToken>> => {
    const path = await chooser.savePath(safeFileName(suggestedName));
    return path === null ? cancelled : write(path, bytes);
  };
  const isChangedOutside = async (path: string): Promise<boolean> => {
    const seen = lastSeen.get(path);
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
      if (path === null) return refused('host.unknown-file', 'this file was not chosen here');
      if (await isChangedOutside(path)) return refused('host.changed-outside', basename(path));
      return write(path, bytes);
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
    close: journal.close,
  };
}
