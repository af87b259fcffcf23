import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { appendToJournal, readJournals } from '../../src/host/web/journal';

/** A browser's store that takes so many characters and then no more. */
function storeOf(mostCharacters: number): Storage {
  const kept = new Map<string, string>();
  const store = {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem(key: string, value: string) {
      const others = [...kept].filter(([name]) => name !== key);
      const used = others.reduce((sum, [name, text]) => sum + name.length + text.length, 0);
      if (used + key.length + value.length > mostCharacters) throw new Error('full');
      kept.set(key, value);
      Object.assign(store, { [key]: value });
    },
  };
  return store as unknown as Storage;
}

beforeEach(() => vi.stubGlobal('localStorage', storeOf(200)));
afterEach(() => vi.unstubAllGlobals());

it('a line that finds the store full is refused, and what was kept stays', () => {
  expect(appendToJournal({ planId: 'p', line: 'whole plan', name: 'Lot', begins: true })).toBe(true);
  expect(appendToJournal({ planId: 'p', line: 'x'.repeat(300) })).toBe(false);
  expect(readJournals()).toEqual([{ planId: 'p', name: 'Lot', lines: ['whole plan'] }]);
});

it('a line that begins takes the place of all before it, so that the store holds one story and no more', () => {
  expect(appendToJournal({ planId: 'p', line: 'whole plan', name: 'Lot', begins: true })).toBe(true);
  expect(appendToJournal({ planId: 'p', line: 'an edit' })).toBe(true);
  expect(appendToJournal({ planId: 'p', line: 'whole plan, later', begins: true })).toBe(true);
  expect(readJournals()).toEqual([{ planId: 'p', name: 'Lot', lines: ['whole plan, later'] }]);
});

it('the whole plan takes the place of its older lines where the store is full, so that later edits are kept again', () => {
  expect(appendToJournal({ planId: 'p', line: 'whole plan', name: 'Lot', begins: true })).toBe(true);
  let lines = 0;
  while (appendToJournal({ planId: 'p', line: `an edit, ${lines}` })) lines += 1;
  expect(lines).toBeGreaterThan(2);
  expect(appendToJournal({ planId: 'p', line: 'whole plan as it is now', begins: true })).toBe(true);
  expect(appendToJournal({ planId: 'p', line: 'an edit after that' })).toBe(true);
  expect(readJournals()[0]!.lines).toEqual(['whole plan as it is now', 'an edit after that']);
});

it('a plan too large for the store leaves the older lines alone', () => {
  expect(appendToJournal({ planId: 'p', line: 'whole plan', name: 'Lot', begins: true })).toBe(true);
  expect(appendToJournal({ planId: 'p', line: 'y'.repeat(300), begins: true })).toBe(false);
  expect(readJournals()[0]!.lines).toEqual(['whole plan']);
});
