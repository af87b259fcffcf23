import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { migrateDocument, PLAN_VERSION, readPlan, writePlan } from '../../../src/core/plan';

const folder = new URL('fixtures/', import.meta.url);
const versionOf = (name: string) => Number(/^version-(\d+)\./.exec(name)?.[1]);
const fixtures = readdirSync(folder).sort((a, b) => versionOf(a) - versionOf(b));
const textOf = (name: string) => readFileSync(new URL(name, folder), 'utf8');

describe('a plan of every version that was ever written', () => {
  it('is kept, the present one too', () => {
    expect(fixtures.map(versionOf)).toEqual(Array.from({ length: PLAN_VERSION }, (_, n) => n + 1));
  });

  it.each(fixtures)('%s opens, and is saved twice the same in the present version', (name) => {
    const text = textOf(name);
    expect(JSON.parse(text).version).toBe(versionOf(name));
    const read = readPlan(text, name);
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    expect(read.value.version).toBe(PLAN_VERSION);
    expect(Object.keys(read.value.beds).length).toBeGreaterThan(0);
    const saved = writePlan(read.value);
    const again = readPlan(saved, name);
    expect(again.ok && writePlan(again.value)).toBe(saved);
  });

  it('of the present version comes back from the save byte for byte', () => {
    const name = fixtures.at(-1) ?? '';
    const read = readPlan(textOf(name), name);
    expect(read.ok && writePlan(read.value)).toBe(textOf(name));
  });

  it('is not changed by the migration that reads it', () => {
    const document = JSON.parse(textOf(fixtures[0] ?? ''));
    const before = JSON.stringify(document);
    migrateDocument(document);
    expect(JSON.stringify(document)).toBe(before);
  });
});
