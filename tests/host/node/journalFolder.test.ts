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
