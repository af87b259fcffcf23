import { spawn } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { backupNameOf, type Disk, machineDisk, sweepUnfinished, writeSafely } from '../../../src/host/node';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-save-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));
const bytes = (text: string) => new TextEncoder().encode(text);

describe('saving a plan', () => {
  it('puts the new version in place, keeps the last one beside it, and leaves nothing else', async () => {
    const path = join(folder, 'garden.json');
    expect((await writeSafely(path, bytes('first'))).ok).toBe(true);
    expect((await writeSafely(path, bytes('second'))).ok).toBe(true);
    expect(readFileSync(path, 'utf8')).toBe('second');
    expect(readFileSync(backupNameOf(path), 'utf8')).toBe('first');
    expect(readdirSync(folder).sort()).toEqual(['garden.json', 'garden.json.before']);
  });

  it('follows a link to the real file and keeps its permissions', async () => {
    const real = join(folder, 'real.json');
    const link = join(folder, 'link.json');
    writeFileSync(real, 'old');
    chmodSync(real, 0o600);
    symlinkSync(real, link);
    expect((await writeSafely(link, bytes('new'))).ok).toBe(true);
    expect(lstatSync(link).isSymbolicLink()).toBe(true);
    expect(readFileSync(real, 'utf8')).toBe('new');
    expect(statSync(real).mode & 0o777).toBe(0o600);
  });

  it('a folder that is gone is named, and nothing is made', async () => {
    expect(await writeSafely(join(folder, 'gone', 'a.json'), bytes('x'))).toMatchObject({
      ok: false,
      fault: 'host.folder-gone',
    });
  });

  it('whatever call of the disk fails, the old or the new version stands whole and success is never claimed falsely', async () => {
    const kinds = ['ENOSPC', 'EIO', 'EACCES', 'EROFS', 'EBUSY'];
    let failures = 0;
    for (let failAt = 0; failAt < 60; failAt += 1) {
      const code = kinds[failAt % kinds.length] ?? 'EIO';
      const path = join(folder, `plan-${failAt}.json`);
      writeFileSync(path, 'old version');
      let calls = 0;
      const trip = (): void => {
        if (calls === failAt % 12) {
          calls += 1;
          throw Object.assign(new Error(code), { code });
        }
        calls += 1;
      };
      const wrap =
        <A extends unknown[], T>(act: (...args: A) => Promise<T>) =>
        async (...args: A): Promise<T> => {
          trip();
          return act(...args);
        };
      const disk: Disk = {
        ...machineDisk,
        realPath: wrap(machineDisk.realPath),
        modeOf: wrap(machineDisk.modeOf),
        readBytes: wrap(machineDisk.readBytes),
        copy: wrap(machineDisk.copy),
        rename: wrap(machineDisk.rename),
        syncFolder: wrap(machineDisk.syncFolder),
        createNew: wrap(async (name: string, mode: number) => {
          const file = await machineDisk.createNew(name, mode);
          return { write: wrap(file.write), sync: wrap(file.sync), close: file.close };
        }),
      };
      const result = await writeSafely(path, bytes('new version'), disk);
      const now = readFileSync(path, 'utf8');
      expect(['old version', 'new version']).toContain(now);
      if (result.ok) expect(now).toBe('new version');
      else failures += 1;
    }
    expect(failures).toBeGreaterThan(30);
    expect(readdirSync(folder).filter((name) => name.endsWith('.unfinished'))).toEqual([]);
  });

  it('a disk that takes half of the bytes and says nothing is found out by reading back', async () => {
    const path = join(folder, 'a.json');
    writeFileSync(path, 'old');
    const disk: Disk = {
      ...machineDisk,
      readBytes: async (name) => (await machineDisk.readBytes(name)).slice(0, 2),
    };
    expect(await writeSafely(path, bytes('longer'), disk)).toMatchObject({
      ok: false,
      fault: 'host.not-as-written',
    });
    expect(readFileSync(path, 'utf8')).toBe('old');
  });

  it('sweeps what a killed program left, but not what a running one is writing', async () => {
    const sleeper = spawn(process.execPath, ['-e', 'setTimeout(() => {}, 20000)']);
    const dead = join(folder, '.a.json.999999999-0123456789ab.unfinished');
    const live = join(folder, `.a.json.${sleeper.pid}-0123456789ab.unfinished`);
    const other = join(folder, 'notes.unfinished');
    for (const path of [dead, live, other]) writeFileSync(path, '');
    await sweepUnfinished(folder);
    sleeper.kill();
    expect([existsSync(dead), existsSync(live), existsSync(other)]).toEqual([false, true, true]);
  });
});
