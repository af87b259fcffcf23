import type { JournalEntry, RecoveredPlan } from '../contract';

const PREFIX = 'rillsheet.journal.';
const NAME_PREFIX = 'rillsheet.journal-name.';

/** Keeps the journal in the browser's own store. False where it is full: the line is lost, what was kept before stays. */
export function appendToJournal(entry: JournalEntry): boolean {
  const key = PREFIX + entry.planId;
  try {
    localStorage.setItem(key, `${localStorage.getItem(key) ?? ''}${entry.line}\n`);
    if (entry.name) localStorage.setItem(NAME_PREFIX + entry.planId, entry.name);
    return true;
  } catch {
    return false;
  }
}

export function readJournals(): readonly RecoveredPlan[] {
  return Object.keys(localStorage)
    .filter((key) => key.startsWith(PREFIX))
    .sort()
    .map((key) => ({
      planId: key.slice(PREFIX.length),
      name: localStorage.getItem(NAME_PREFIX + key.slice(PREFIX.length)) ?? key.slice(PREFIX.length),
      lines: (localStorage.getItem(key) ?? '').split('\n').filter((line) => line !== ''),
    }));
}

export function clearJournal(planId: string): void {
  localStorage.removeItem(PREFIX + planId);
  localStorage.removeItem(NAME_PREFIX + planId);
}
