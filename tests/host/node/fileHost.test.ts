import {
  chmodSync,
  chownSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { printer } from '../../../src/core/units';
import { sayProblem } from '../../../src/core/words';
import { createFileHost, type FileHost } from '../../../src/host/node';
import { asPlainUser } from '../plainUser';

let folder: string;
let saveTo: string;
let host: FileHost;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-host-'));
  saveTo = join(folder, 'garden.json');
  host = hostOn(join(folder, 'data'));
});
afterEach(async () => {
  await host.close();
  rmSync(folder, { recursive: true, force: true });
});

const hostOn = (dataFolder: string): FileHost =>
  createFileHost({
    dataFolder,
    now: () => '2026-01-01T00:00:00Z',
    chooser: { openPath: async () => saveTo, savePath: async () => saveTo },
  });
const bytes = (text: string) => new TextEncoder().encode(text);
async function opened(path: string): Promise<string> {
  const answer = await host.openPath(path);
  if (answer.kind !== 'done' || answer.value.file === null) throw new Error('it opens');
  return answer.value.file.token;
}

describe('a plan on disk', () => {
  it('opened in two windows: the one saved second is asked, and the first stays as saved', async () => {
    writeFileSync(saveTo, 'first');
    const [a, b] = [await opened(saveTo), await opened(saveTo)];
    expect((await host.save(a, '', bytes('from a'))).kind).toBe('done');
    expect(await host.save(b, '', bytes('from b'))).toMatchObject({ code: 'host.changed-outside' });
    expect(readFileSync(saveTo, 'utf8')).toBe('from a');
    expect((await host.save(a, '', bytes('from a again'))).kind).toBe('done');
  });

  it('open in another running program is said; a program that has ended leaves no mark', async () => {
    writeFileSync(saveTo, 'first');
    const answer = await host.openPath(saveTo);
    expect(answer).toMatchObject({ value: { isOpenElsewhere: false } });
    const marks = join(folder, 'data', 'open');
    const [mark = ''] = readdirSync(marks);
    const key = mark.split('.')[0];
    // The test's own parent stands for another running program, 999999999 for one that ended.
    writeFileSync(join(marks, `${key}.${process.ppid}`), '');
    writeFileSync(join(marks, `${key}.999999999`), '');
    expect(await host.openPath(saveTo)).toMatchObject({ value: { isOpenElsewhere: true } });
    expect(readdirSync(marks)).not.toContain(`${key}.999999999`);
    await host.close();
    expect(readdirSync(marks)).toEqual([`${key}.${process.ppid}`]);
  });

  it('behind a link is saved where the link leads, and the link stays', async () => {
    const real = join(folder, 'real');
    mkdirSync(real);
    writeFileSync(join(real, 'plan.json'), 'old');
    symlinkSync(join(real, 'plan.json'), saveTo);
    expect((await host.save(await opened(saveTo), '', bytes('new'))).kind).toBe('done');
    expect(lstatSync(saveTo).isSymbolicLink()).toBe(true);
    expect(readFileSync(join(real, 'plan.json'), 'utf8')).toBe('new');
  });

  it.each([
    ['a folder in its place', () => folder, 'host.not-a-file'],
    ['a name that leads nowhere', () => join(folder, 'nowhere.json'), 'host.cannot-read'],
  ])('%s is refused by name', async (_, path, code) => {
    expect(await host.openPath(path())).toMatchObject({ kind: 'refused', code });
  });

  it('whose folder has vanished is refused with the advice to save elsewhere, and can be saved elsewhere', async () => {
    mkdirSync(join(folder, 'drive'));
    saveTo = join(folder, 'drive', 'garden.json');
    writeFileSync(saveTo, 'old');
    const token = await opened(saveTo);
    rmSync(join(folder, 'drive'), { recursive: true });
    const answer = await host.save(token, '', bytes('new'));
    expect(answer).toMatchObject({ kind: 'refused', code: 'host.folder-gone' });
    saveTo = join(folder, 'elsewhere.json');
    expect((await host.saveAs('x', bytes('new'))).kind).toBe('done');
    expect(readFileSync(saveTo, 'utf8')).toBe('new');
  });

  it('opens although the list of recent plans cannot be kept', async () => {
    writeFileSync(saveTo, 'old');
    writeFileSync(join(folder, 'blocked'), '');
    const blocked = hostOn(join(folder, 'blocked', 'data'));
    expect((await blocked.openPath(saveTo)).kind).toBe('done');
    await blocked.close();
  });

  it('in a folder that may not be written keeps its old bytes, and can be saved elsewhere', async () => {
    mkdirSync(join(folder, 'closed'));
    mkdirSync(join(folder, 'data'));
    saveTo = join(folder, 'closed', 'garden.json');
    writeFileSync(saveTo, 'old');
    chmodSync(join(folder, 'closed'), 0o500);
    await asPlainUser(folder, async () => {
      const answer = await host.save(await opened(saveTo), '', bytes('new'));
      expect(answer).toMatchObject({ kind: 'refused', code: 'host.read-only' });
      expect(readFileSync(saveTo, 'utf8')).toBe('old');
      expect(readdirSync(join(folder, 'closed'))).toEqual(['garden.json']);
      saveTo = join(folder, 'elsewhere.json');
      expect((await host.saveAs('x', bytes('new'))).kind).toBe('done');
      expect(readFileSync(saveTo, 'utf8')).toBe('new');
    });
    chmodSync(join(folder, 'closed'), 0o700);
  });

  it('that is marked read-only is not replaced, although its folder may be written', async () => {
    writeFileSync(saveTo, 'old');
    const token = await opened(saveTo);
    chmodSync(saveTo, 0o444);
    expect(await host.save(token, '', bytes('new'))).toMatchObject({ code: 'host.read-only' });
    expect(readFileSync(saveTo, 'utf8')).toBe('old');
    expect(readdirSync(folder).filter((name) => name !== 'data')).toEqual(['garden.json']);
    chmodSync(saveTo, 0o644);
    expect((await host.save(token, '', bytes('new'))).kind).toBe('done');
  });

  it('that belongs to somebody else and may only be read is not replaced', async () => {
    writeFileSync(saveTo, 'old');
    mkdirSync(join(folder, 'data'));
    // A folder for everybody, a file of one: a rename alone would be let through.
    const isRoot = process.getuid?.() === 0;
    await asPlainUser(folder, async () => {
      const token = await opened(saveTo);
      if (isRoot) {
        process.seteuid?.(0);
        chownSync(saveTo, 0, 0);
        process.seteuid?.(65_534);
      } else chmodSync(saveTo, 0o444);
      expect(await host.save(token, '', bytes('new'))).toMatchObject({ code: 'host.read-only' });
    });
    expect(readFileSync(saveTo, 'utf8')).toBe('old');
  });
});

it.each([
  'disk-full',
  'read-only',
  'folder-gone',
  'in-use',
  'not-as-written',
  'cannot-write',
  'changed-outside',
  'unknown-file',
])('the refusal %s tells a person to save elsewhere', (code) => {
  const said = sayProblem(
    { code: `host.${code}`, severity: 'stop', where: {}, params: { detail: 'EIO' } },
    printer('us'),
  );
  expect(said.next).toMatch(/another (name|disk)/);
});
