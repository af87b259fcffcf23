import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { writeSafely } from './safeWrite';

interface RecentPath {
  readonly path: string;
  readonly openedAt: string;
}

const KEPT = 12;

const isRecentPath = (value: unknown): value is RecentPath =>
  typeof value === 'object' &&
  value !== null &&
  'path' in value &&
  'openedAt' in value &&
  typeof value.path === 'string' &&
  typeof value.openedAt === 'string';

/** The plans opened last, newest first, kept in the program's own folder. A damaged list is an empty one. */
export async function readRecent(dataFolder: string): Promise<readonly RecentPath[]> {
  try {
    const list: unknown = JSON.parse(await readFile(join(dataFolder, 'recent.json'), 'utf8'));
    return Array.isArray(list) ? list.filter(isRecentPath).slice(0, KEPT) : [];
  } catch {
    return [];
  }
}

export async function rememberRecent(dataFolder: string, path: string, openedAt: string): Promise<void> {
  const others = (await readRecent(dataFolder)).filter((entry) => entry.path !== path);
  const list = [{ path, openedAt }, ...others].slice(0, KEPT);
  await writeSafely(
    join(dataFolder, 'recent.json'),
    new TextEncoder().encode(`${JSON.stringify(list, null, 1)}\n`),
  );
}
