import { spawnSync } from 'node:child_process';
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statfsSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeOutputs } from '../../src/cli/outFolder';
import {
  createFileHost,
  createJournalFolder,
  type Disk,
  type DiskFile,
  machineDisk,
  writeSafely,
} from '../../src/host/node';
import { amount, report } from './amounts';
import { seeded } from './mutate';

let folder: string;
let isMounted = false;
/** A disk of 256 kB where this machine lets us mount one. */
let smallDisk: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-disk-'));
  smallDisk = join(folder, 'small');
  mkdirSync(smallDisk);
  const mount = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=256k', 'tmpfs', smallDisk]);
  isMounted = mount.status === 0;
});
afterAll(() => {
  if (isMounted) spawnSync('umount', [smallDisk]);
  rmSync(folder, { recursive: true, force: true });
});

const bytes = (length: number, fill: number) => new Uint8Array(length).fill(fill);
const OLD = bytes(20_000, 1);
const same = (path: string, expected: Uint8Array) => Buffer.from(expected).equals(readFileSync(path));

/** Fills the small disk but for some bytes. */
function fillUp(leave: number): void {
  const { bavail, bsize } = statfsSync(smallDisk);
  writeFileSync(join(smallDisk, 'filler'), bytes(Math.max(0, bavail * bsize - leave), 7));
}
const empty = () => {
  for (const name of readdirSync(smallDisk)) rmSync(join(smallDisk, name), { recursive: true, force: true });
};

/** A disk whose calls fail with `code` from call `failAt` on, `times` times; half-written where it fails in a write. */
function failingDisk(
  failAt: number,
  code: string,
  times = 1,
): { readonly disk: Disk; readonly calls: () => number } {
  let calls = 0;
  const trip = (): void => {
    const call = calls++;
    if (call >= failAt && call < failAt + times) throw Object.assign(new Error(code), { code });
  };
  const wrap =
    <A extends unknown[], T>(act: (...args: A) => Promise<T>) =>
    async (...args: A): Promise<T> => {
      trip();
      return act(...args);
    };
  const createNew = async (path: string, mode: number): Promise<DiskFile> => {
    trip();
    const file = await machineDisk.createNew(path, mode);
    return {
      write: async (all, offset, length) => {
        // Short writes are allowed by every system: half at a time, so that a fault can fall between two.
        const part = Math.min(length, Math.ceil(all.length / 2));
        try {
          trip();
        } catch (error) {
          await file.write(all, offset, Math.floor(part / 2));
          throw error;
        }
        return file.write(all, offset, part);
      },
      sync: wrap(file.sync),
      close: async () => {
        await file.close();
        trip();
      },
    };
  };
  return {
    calls: () => calls,
    disk: {
      realPath: wrap(machineDisk.realPath),
      modeOf: wrap(machineDisk.modeOf),
      createNew,
      readBytes: wrap(machineDisk.readBytes),
      copy: wrap(machineDisk.copy),
      rename: wrap(machineDisk.rename),
      remove: wrap(machineDisk.remove),
      syncFolder: wrap(machineDisk.syncFolder),
      list: wrap(machineDisk.list),
    },
  };
}

describe('a full disk', () => {
  it('refuses a save, an autosave and an export by name, and leaves what stood there', {
    timeout: 600_000,
  }, async () => {
    const random = seeded(11);
    const each = amount(12, 120) / 3;
    const counts = { saves: 0, autosaves: 0, exports: 0, 'refused by name': 0 };
    for (let n = 0; n < each; n++) {
      const leave = Math.floor(random() * 15_000);
      if (isMounted) {
        empty();
        const path = join(smallDisk, 'garden.json');
        writeFileSync(path, OLD);
        const journal = createJournalFolder(join(smallDisk, 'journal'));
        await journal.append({ planId: 'p', line: 'x'.repeat(500), begins: true });
        mkdirSync(join(smallDisk, 'out'));
        writeFileSync(join(smallDisk, 'out', 'plan.dxf'), OLD);
        writeFileSync(join(smallDisk, 'out', '.rillsheet-outputs.json'), '["plan.dxf"]\n');
        fillUp(leave);
        const host = createFileHost({
          dataFolder: join(folder, 'data'),
          now: () => '2026-01-01T00:00:00Z',
          chooser: { openPath: async () => path, savePath: async () => path },
        });
        const opened = await host.openPath(path);
        const token = opened.kind === 'done' ? opened.value.file?.token : null;
        expect(await host.save(token, '', bytes(30_000, 2))).toMatchObject({ code: 'host.disk-full' });
        expect(await host.exportBytes('x', bytes(30_000, 2))).toMatchObject({ code: 'host.disk-full' });
        await host.close();
        expect(same(path, OLD)).toBe(true);
        const answer = await journal.append({ planId: 'p', line: 'y'.repeat(40_000) });
        expect(answer).toMatchObject({ kind: 'refused', code: 'host.disk-full' });
        expect((await journal.read())[0]?.lines).toEqual(['x'.repeat(500)]);
        await journal.close();
        const files = [
          { name: 'plan.dxf', bytes: bytes(10_000, 3) },
          { name: 'b.csv', bytes: bytes(20_000, 3) },
        ];
        expect(await writeOutputs(join(smallDisk, 'out'), files)).toMatchObject({ kind: 'cannot-write' });
        expect(same(join(smallDisk, 'out', 'plan.dxf'), OLD)).toBe(true);
        expect(readdirSync(join(smallDisk, 'out')).sort()).toEqual(['.rillsheet-outputs.json', 'plan.dxf']);
        expect(readdirSync(smallDisk).filter((name) => name.includes('unfinished'))).toEqual([]);
        counts.autosaves += 1;
      } else {
        const path = join(folder, 'garden.json');
        writeFileSync(path, OLD);
        // From the first write on nothing more fits.
        const { disk } = failingDisk(3 + (n % 3), 'ENOSPC', 1000);
        const removing: Disk = { ...disk, remove: machineDisk.remove };
        expect(await writeSafely(path, bytes(30_000, 2), removing)).toMatchObject({
          fault: 'host.disk-full',
        });
        expect(same(path, OLD)).toBe(true);
      }
      counts.saves += 1;
      counts.exports += 1;
      counts['refused by name'] += isMounted ? 4 : 1;
    }
    report(
      `full disk (${isMounted ? 'a mounted disk of 256 kB' : 'injected: no disk may be mounted here'})`,
      counts,
    );
  });
});

describe('a disk that fails at any one call', () => {
  it('leaves the old or the new version, and never claims a save that is none', {
    timeout: 600_000,
  }, async () => {
    const codes = ['ENOSPC', 'EIO', 'EACCES', 'EROFS', 'EBUSY', 'ENODEV', 'EDQUOT', 'EPERM'];
    const counts = { faults: 0, 'old version kept': 0, 'new version in place': 0, 'said to be saved': 0 };
    const target = join(folder, 'plan.json');
    const link = join(folder, 'link.json');
    symlinkSync(target, link);
    const fresh = bytes(5000, 2);
    for (let n = 0; counts.faults < 300; n++) {
      const way = n % 3;
      rmSync(target, { force: true });
      if (way !== 1) writeFileSync(target, OLD);
      const code = codes[n % codes.length] ?? 'EIO';
      const { disk, calls } = failingDisk(Math.floor(n / 3) % 16, code);
      const result = await writeSafely(way === 2 ? link : target, fresh, disk);
      if (calls() <= Math.floor(n / 3) % 16) continue;
      counts.faults += 1;
      const isThere = readdirSync(folder).includes('plan.json');
      const isNew = isThere && same(target, fresh);
      const isOld = isThere ? same(target, OLD) : way === 1;
      expect(isNew || isOld, `call ${Math.floor(n / 3) % 16} ${code}`).toBe(true);
      counts[isNew ? 'new version in place' : 'old version kept'] += 1;
      if (result.ok) {
        counts['said to be saved'] += 1;
        expect(isNew).toBe(true);
      } else expect(result.fault).toMatch(/^host\./);
      expect(readdirSync(folder).filter((name) => name.endsWith('.unfinished'))).toEqual([]);
    }
    report('disk faults at the k-th call', counts);
    expect(counts['old version kept']).toBeGreaterThan(100);
    // A fault after the last rename leaves the new version, and still no save is claimed.
    expect(counts['new version in place']).toBeGreaterThan(0);
  });
});
