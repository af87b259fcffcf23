import { createHash, randomBytes } from 'node:crypto';
import { basename, dirname, join } from 'node:path';
import { type Disk, type DiskFile, machineDisk, systemCode } from './disk';

/** Why a file was not written. The file that stood there before still does. */
export type WriteFault =
  | 'host.disk-full'
  | 'host.read-only'
  | 'host.folder-gone'
  | 'host.in-use'
  | 'host.not-as-written'
  | 'host.cannot-write';

export type WriteResult =
  | { readonly ok: true; readonly path: string; readonly backup: string | null }
  | { readonly ok: false; readonly fault: WriteFault; readonly detail: string };

const TEMPORARY = /^\..+\.(\d+)-[0-9a-f]{12}b?\.unfinished$/;
const RENAME_TRIES = 6;
const FAULTS: Readonly<Record<string, WriteFault>> = {
  ENOSPC: 'host.disk-full',
  EDQUOT: 'host.disk-full',
  EFBIG: 'host.disk-full',
  EROFS: 'host.read-only',
  EACCES: 'host.read-only',
  EPERM: 'host.read-only',
  ENOENT: 'host.folder-gone',
  ENOTDIR: 'host.folder-gone',
  ENODEV: 'host.folder-gone',
  EIO: 'host.folder-gone',
  EBUSY: 'host.in-use',
  ETXTBSY: 'host.in-use',
};

class NotAsWritten extends Error {}

/** The fault that an error of the disk stands for. */
export const faultOf = (error: unknown): WriteFault =>
  error instanceof NotAsWritten ? 'host.not-as-written' : (FAULTS[systemCode(error)] ?? 'host.cannot-write');

/** Name of the copy of the last version, kept beside a file. */
export const backupNameOf = (path: string): string => `${path}.before`;

const digest = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

const unfinishedNameOf = (target: string): string =>
  join(dirname(target), `.${basename(target)}.${process.pid}-${randomBytes(6).toString('hex')}.unfinished`);

async function writeWhole(file: DiskFile, bytes: Uint8Array): Promise<void> {
  for (let at = 0; at < bytes.length; ) {
    const written = await file.write(bytes, at, bytes.length - at);
    if (written <= 0) throw new NotAsWritten('the disk took no more bytes');
    at += written;
  }
  await file.sync();
}

/** A rename can be refused for a moment on systems where a scanner holds the file. */
async function renameWithPatience(disk: Disk, from: string, to: string): Promise<void> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      await disk.rename(from, to);
      return;
    } catch (error) {
      const isPassing =
        process.platform === 'win32' && ['EBUSY', 'EPERM', 'EACCES'].includes(systemCode(error));
      if (!isPassing || attempt >= RENAME_TRIES) throw error;
      await new Promise((resolve) => setTimeout(resolve, 20 * 2 ** attempt));
    }
  }
}

async function keepBackup(disk: Disk, target: string, unfinished: string): Promise<string> {
  const backup = backupNameOf(target);
  const copy = unfinished.replace(/\.unfinished$/, 'b.unfinished');
  try {
    await disk.copy(target, copy);
    await renameWithPatience(disk, copy, backup);
  } catch (error) {
    await disk.remove(copy).catch(() => undefined);
    throw error;
  }
  return backup;
}

async function resolveTarget(disk: Disk, path: string): Promise<string> {
  try {
    return await disk.realPath(path);
  } catch (error) {
    if (systemCode(error) !== 'ENOENT') throw error;
    return join(await disk.realPath(dirname(path)), basename(path));
  }
}

async function writeUnfinished(
  disk: Disk,
  unfinished: string,
  bytes: Uint8Array,
  mode: number,
): Promise<void> {
  const file = await disk.createNew(unfinished, mode);
  try {
    await writeWhole(file, bytes);
  } finally {
    await file.close();
  }
  const found = await disk.readBytes(unfinished);
  if (found.length !== bytes.length || digest(found) !== digest(bytes))
    throw new NotAsWritten('the bytes read back differ');
}

/**
 * Writes a file so that at every moment either the old or the new version stands there whole.
 * A temporary in the same folder is written, synced, read back and compared, the old version is kept as a backup,
 * then one rename puts the new one in place. Links are followed first, and permissions kept; a file that may not be written
 * is not replaced either.
 *
 * @param bytes the whole content
 * Fails: a fault with the system's own words; nothing partial is left under the file's name.
 */
export async function writeSafely(
  path: string,
  bytes: Uint8Array,
  disk: Disk = machineDisk,
): Promise<WriteResult> {
  let unfinished: string | null = null;
  try {
    const target = await resolveTarget(disk, path);
    const mode = await disk.modeOf(target);
    unfinished = unfinishedNameOf(target);
    await writeUnfinished(disk, unfinished, bytes, mode ?? 0o644);
    const backup = mode === null ? null : await keepBackup(disk, target, unfinished);
    await renameWithPatience(disk, unfinished, target);
    unfinished = null;
    await disk.syncFolder(dirname(target));
    return { ok: true, path: target, backup };
  } catch (error) {
    if (unfinished !== null) await disk.remove(unfinished).catch(() => undefined);
    return {
      ok: false,
      fault: faultOf(error),
      detail: error instanceof Error ? error.message : String(error),
    };
  }
}

/** True if a program with this number runs on this machine. */
export const isAlive = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return systemCode(error) === 'EPERM';
  }
};

/** Removes temporaries that a program of ours left when it was killed. Those of a program still running are let be. */
export async function sweepUnfinished(folder: string, disk: Disk = machineDisk): Promise<readonly string[]> {
  const names = await disk.list(folder).catch(() => []);
  const stale = names.filter((name) => {
    const pid = Number(TEMPORARY.exec(name)?.[1]);
    return Number.isInteger(pid) && (pid === process.pid || !isAlive(pid));
  });
  for (const name of stale) await disk.remove(join(folder, name)).catch(() => undefined);
  return stale;
}
