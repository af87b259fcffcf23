import { existsSync } from 'node:fs';
import { mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import type { OutputFile } from './outputs';

/** Names the files of ours in a folder, so that nobody else's is ever taken for one. */
const MARKER = '.rillsheet-outputs.json';

export type FolderRefusal =
  | { readonly kind: 'strangers'; readonly names: readonly string[] }
  | { readonly kind: 'ours'; readonly names: readonly string[] }
  | { readonly kind: 'not-a-folder' }
  | { readonly kind: 'cannot-write'; readonly detail: string };

const isNodeError = (error: unknown, code: string): boolean =>
  (error as NodeJS.ErrnoException | null)?.code === code;

async function readMarker(folder: string): Promise<readonly string[]> {
  try {
    const names: unknown = JSON.parse(await readFile(join(folder, MARKER), 'utf8'));
    return Array.isArray(names)
      ? names.filter((name): name is string => typeof name === 'string' && !/[\\/]/.test(name))
      : [];
  } catch {
    return [];
  }
}

/**
 * Whether outputs may go into a folder. Null: yes.
 * A folder with anything that is not ours is refused; one with our outputs is taken only with `mayReplace`.
 */
export async function refusalOf(folder: string, mayReplace: boolean): Promise<FolderRefusal | null> {
  let names: string[];
  try {
    names = await readdir(folder);
  } catch (error) {
    if (isNodeError(error, 'ENOENT')) return null;
    if (isNodeError(error, 'ENOTDIR')) return { kind: 'not-a-folder' };
    return { kind: 'cannot-write', detail: error instanceof Error ? error.message : String(error) };
  }
  const ours = new Set([MARKER, ...(await readMarker(folder))]);
  const strangers = names.filter((name) => !ours.has(name));
  if (strangers.length > 0) return { kind: 'strangers', names: strangers.sort() };
  return names.length > 0 && !mayReplace
    ? { kind: 'ours', names: names.filter((name) => name !== MARKER).sort() }
    : null;
}

/**
 * Writes all outputs or none: into a folder beside the wanted one first, then moved in one by one by rename.
 * Outputs of an earlier run that are not made again are removed.
 * Fails: a refusal with the system's words; the folder is as it was.
 */
export async function writeOutputs(
  folder: string,
  files: readonly OutputFile[],
): Promise<FolderRefusal | null> {
  const target = resolve(folder);
  const unfinished = join(dirname(target), `.${process.pid}.rillsheet-unfinished`);
  try {
    await mkdir(dirname(target), { recursive: true });
    await mkdir(unfinished);
    for (const file of files) await writeFile(join(unfinished, file.name), file.bytes);
    const names = files.map((file) => file.name).sort();
    await writeFile(join(unfinished, MARKER), `${JSON.stringify(names)}\n`);
    if (!existsSync(target)) {
      await rename(unfinished, target);
      return null;
    }
    const gone = (await readMarker(target)).filter((name) => !names.includes(name));
    for (const name of [...names, MARKER]) await rename(join(unfinished, name), join(target, name));
    for (const name of gone) await rm(join(target, name), { force: true });
    return null;
  } catch (error) {
    return { kind: 'cannot-write', detail: error instanceof Error ? error.message : String(error) };
  } finally {
    await rm(unfinished, { recursive: true, force: true });
  }
}
