import type { JournalEntry, RecoveredPlan } from '../contract';

const PREFIX = 'rillsheet.journal.';

/** Keeps the journal in the browser's own store; a full store loses the newest lines, never the plan. */
export function appendToJournal(entry: JournalEntry): void {
  const key = PREFIX + entry.planId;
  try {
    localStorage.setItem(key, `${localStorage.getItem(key) ?? ''}${entry.line}\n`);
  } catch {
    localStorage.removeItem(key);
  }
}

export function readJournals(): readonly RecoveredPlan[] {
  return Object.keys(localStorage)
    .filter((key) => key.startsWith(PREFIX))
    .sort()
    .map((key) => ({
      planId: key.slice(PREFIX.length),
      name: key.slice(PREFIX.length),
      lines: (localStorage.getItem(key) ?? '').split('\n').filter((line) => line !== ''),
    }));
}

export function clearJournal(planId: string): void {
  localStorage.removeItem(PREFIX + planId);
}
