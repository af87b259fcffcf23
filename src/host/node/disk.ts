import { constants, promises as fs } from 'node:fs';

/** An open file, as far as the safe writer needs one. */
export interface DiskFile {
  write(bytes: Uint8Array, offset: number, length: number): Promise<number>;
  sync(): Promise<void>;
  close(): Promise<void>;
}

/** The part of the disk that the safe writer touches; tests put a failing one in its place. */
export interface Disk {
  realPath(path: string): Promise<string>;
  /** Permission bits of a file, or null where there is none. Fails with EACCES where the file may not be written. */
  modeOf(path: string): Promise<number | null>;
  createNew(path: string, mode: number): Promise<DiskFile>;
  readBytes(path: string): Promise<Uint8Array>;
  copy(from: string, toNew: string): Promise<void>;
  rename(from: string, to: string): Promise<void>;
  remove(path: string): Promise<void>;
  syncFolder(path: string): Promise<void>;
  list(path: string): Promise<readonly string[]>;
}

/** The system's error code ("ENOSPC"), or an empty text for errors that are not the system's. */
export const systemCode = (error: unknown): string => (error as NodeJS.ErrnoException | null)?.code ?? '';

/** The machine's own disk. */
export const machineDisk: Disk = {
  realPath: (path) => fs.realpath(path),
  async modeOf(path) {
    try {
      const mode = (await fs.stat(path)).mode & 0o777;
      await (await fs.open(path, 'r+')).close();
      // The superuser is let through everywhere; a mark against writing is still somebody's wish.
      if ((mode & 0o222) === 0) throw Object.assign(new Error('marked read-only'), { code: 'EACCES' });
      return mode;
    } catch (error) {
      if (systemCode(error) === 'ENOENT') return null;
      throw error;
    }
  },
  async createNew(path, mode) {
    const file = await fs.open(path, 'wx', mode);
    return {
      write: async (bytes, offset, length) => (await file.write(bytes, offset, length)).bytesWritten,
      sync: () => file.sync(),
      close: () => file.close(),
    };
  },
  readBytes: (path) => fs.readFile(path),
  copy: (from, toNew) => fs.copyFile(from, toNew, constants.COPYFILE_EXCL),
  rename: (from, to) => fs.rename(from, to),
  remove: (path) => fs.rm(path, { force: true }),
  async syncFolder(path) {
    // Windows has no folder handles to sync; the rename itself is journaled there.
    if (process.platform === 'win32') return;
    const folder = await fs.open(path, 'r');
    try {
      await folder.sync();
    } finally {
      await folder.close();
    }
  },
  list: (path) => fs.readdir(path),
};
