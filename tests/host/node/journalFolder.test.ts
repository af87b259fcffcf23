import { appendFileSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { createJournalFolder } from '../../../src/host/node';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-journal-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

it('gives back every line after a fall, and a cut or altered line ends the story there', async () => {
  const journal = createJournalFolder(folder);
  for (const line of ['one', 'two', 'three']) await journal.append({ planId: 'p/../1', line });
  expect(await createJournalFolder(folder).read()).toEqual([
    { planId: 'p/../1', name: 'p/../1', lines: ['one', 'two', 'three'] },
  ]);
  const file = join(folder, readdirSync(folder)[0] ?? '');
  const whole = readFileSync(file, 'utf8');
  for (let cut = 0; cut < whole.length; cut += 7) {
    writeFileSync(file, whole.slice(0, cut));
    const lines = (await createJournalFolder(folder).read())[0]?.lines ?? [];
    expect(['one', 'two', 'three'].slice(0, lines.length)).toEqual(lines);
    // A line counts once its last character is there; the line break after it adds nothing.
    const ends = [...whole.matchAll(/\n/g)].map((match) => match.index);
    expect(lines.length).toBe(ends.filter((end) => end <= cut).length);
  }
  writeFileSync(file, whole.replace('two', 'twO'));
  appendFileSync(file, 'rubbish');
  expect((await createJournalFolder(folder).read())[0]?.lines).toEqual(['one']);
  await journal.close();
});

it('a clean close leaves nothing to recover', async () => {
  const journal = createJournalFolder(folder);
  await journal.append({ planId: 'p', line: 'x' });
  await journal.clear('p');
  expect(await journal.read()).toEqual([]);
});

it('is named by the plan’s file or title, last said', async () => {
  const journal = createJournalFolder(folder);
  await journal.append({ planId: 'p', line: 'plan', name: 'Front yard', begins: true });
  await journal.append({ planId: 'p', line: 'edit', name: 'front.rillsheet.json' });
  expect(await journal.read()).toEqual([
    { planId: 'p', name: 'front.rillsheet.json', lines: ['plan', 'edit'] },
  ]);
  await journal.close();
});

it('a story begun again after a fall is not lost behind the line that was cut', async () => {
  const before = createJournalFolder(folder);
  await before.append({ planId: 'p', line: 'plan', begins: true });
  await before.append({ planId: 'p', line: 'edit' });
  await before.close();
  const file = join(folder, readdirSync(folder)[0] ?? '');
  writeFileSync(file, readFileSync(file, 'utf8').slice(0, -5));
  const after = createJournalFolder(folder);
  await after.append({ planId: 'p', line: 'plan and edit', begins: true });
  await after.append({ planId: 'p', line: 'another edit' });
  expect((await after.read())[0]?.lines).toEqual(['plan and edit', 'another edit']);
  await after.close();
});

it('a folder that cannot be made is said, and the journal works once it can', async () => {
  const inside = join(folder, 'journal');
  writeFileSync(inside, 'a file stands where the folder should');
  const journal = createJournalFolder(inside);
  expect(await journal.append({ planId: 'p', line: 'plan', begins: true })).toMatchObject({
    kind: 'refused',
  });
  rmSync(inside);
  // An edit without the plan it stands on would be worth nothing.
  expect((await journal.append({ planId: 'p', line: 'edit' })).kind).toBe('refused');
  expect((await journal.append({ planId: 'p', line: 'plan', begins: true })).kind).toBe('done');
  expect((await journal.read())[0]?.lines).toEqual(['plan']);
  await journal.close();
});
