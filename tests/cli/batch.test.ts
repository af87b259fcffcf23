import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type BatchItem, type DesignOne, isBatchSource, runBatch } from '../../src/cli/batch';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-batch-'));
  mkdirSync(join(folder, 'plans'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const put = (name: string, text: string) => writeFileSync(join(folder, 'plans', name), text);

/** Stands for the design of one plan: the text says what is to happen to it. */
const asTold: DesignOne = async (item, out) => {
  if (item.text.includes('crash')) throw new Error('the worker ended');
  const exitCode = item.text.includes('blocked') ? 3 : item.text.includes('bad') ? 1 : 0;
  if (exitCode !== 1) {
    mkdirSync(out, { recursive: true });
    writeFileSync(join(out, 'design.json'), item.text);
  }
  return { exitCode, message: item.text };
};

async function run(source = join(folder, 'plans'), designOne = asTold, settings = '') {
  const results: { name: string; exitCode: number }[] = [];
  const seen: BatchItem[] = [];
  const code = await runBatch(
    { source, out: join(folder, 'out'), jobs: 2, settings },
    {
      designOne: (item, out) => {
        seen.push(item);
        return designOne(item, out);
      },
      result: (line) => results.push(JSON.parse(line)),
      progress: () => undefined,
    },
  );
  return { code, results, seen: seen.map((item) => item.name) };
}

describe('a batch of plans', () => {
  it('goes on past a bad one and a crashed one, each a line of the results', async () => {
    put('a.geojson', 'fine');
    put('b.json', 'bad');
    put('c.geojson', 'crash');
    put('d.geojson', 'blocked');
    put('notes.txt', 'not a plan');
    const { code, results } = await run();
    expect(code).toBe(3);
    expect(Object.fromEntries(results.map((r) => [r.name, r.exitCode]))).toEqual({ a: 0, b: 1, c: 1, d: 3 });
    expect(readdirSync(join(folder, 'out')).sort()).toEqual(['.rillsheet-batch.jsonl', 'a', 'd']);
  });

  it('run again does only what is new, changed or asked for otherwise', async () => {
    put('a.geojson', 'fine');
    put('b.geojson', 'fine too');
    expect((await run()).seen).toEqual(['a', 'b']);
    expect((await run()).seen).toEqual([]);
    put('b.geojson', 'changed');
    put('c.geojson', 'new');
    expect((await run()).seen).toEqual(['b', 'c']);
    expect((await run(undefined, asTold, '--paper a3')).seen).toEqual(['a', 'b', 'c']);
  });

  it('goes on after a stop in the middle of a journal line', async () => {
    put('a.geojson', 'fine');
    put('b.geojson', 'fine');
    await run();
    const journal = join(folder, 'out', '.rillsheet-batch.jsonl');
    writeFileSync(journal, readFileSync(journal, 'utf8').slice(0, -20));
    expect((await run()).seen).toHaveLength(1);
    expect((await run()).seen).toEqual([]);
  });

  it('reads one plan a line', async () => {
    const stream = join(folder, 'sites.jsonl');
    writeFileSync(stream, '{"a":1}\n\n\u001e{"b":2}\r\n');
    const { seen, results } = await run(stream);
    expect(seen).toEqual(['plan-000001', 'plan-000003']);
    expect(results.map((r) => r.exitCode)).toEqual([0, 0]);
    expect(await isBatchSource(stream)).toBe(true);
    expect(await isBatchSource(join(folder, 'plans'))).toBe(true);
    expect(await isBatchSource(join(folder, 'plans', 'a.geojson'))).toBe(false);
  });

  it('never writes among files that are not of a batch', async () => {
    put('a.geojson', 'fine');
    mkdirSync(join(folder, 'out'));
    writeFileSync(join(folder, 'out', 'letters.txt'), 'mine');
    expect(await run()).toMatchObject({ code: 2, seen: [] });
    expect(readdirSync(join(folder, 'out'))).toEqual(['letters.txt']);
  });

  it('of none that can be used ends with 1', async () => {
    put('a.geojson', 'bad');
    expect((await run()).code).toBe(1);
  });
});
