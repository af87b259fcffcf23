import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createMemory } from '../../../src/host/node';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'rillsheet-memory-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

describe('what the desk remembers', () => {
  it('is there at the next start, and what is forgotten is gone', async () => {
    const memory = createMemory(join(folder, 'deeper'));
    await Promise.all([memory.remember('look', 'dark'), memory.remember('visited', 'yes')]);
    await memory.remember('look', 'light');
    await memory.remember('visited', null);
    expect(await createMemory(join(folder, 'deeper')).recall()).toEqual({ look: 'light' });
  });

  it('a damaged file is an empty memory that can be written to again', async () => {
    await writeFile(join(folder, 'remembered.json'), '{"look": "da');
    const memory = createMemory(folder);
    expect(await memory.recall()).toEqual({});
    await memory.remember('look', 'dark');
    expect(JSON.parse(await readFile(join(folder, 'remembered.json'), 'utf8'))).toEqual({ look: 'dark' });
  });

  it('takes no text longer than its bound and no more names than its bound', async () => {
    const memory = createMemory(folder);
    await memory.remember('keys', 'x'.repeat(20_001));
    expect(await memory.recall()).toEqual({});
    for (let count = 0; count < 60; count += 1) await memory.remember(`name ${count}`, 'x');
    expect(Object.keys(await memory.recall())).toHaveLength(50);
  });
});
