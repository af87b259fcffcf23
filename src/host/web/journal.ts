import type { JournalEntry, RecoveredPlan } from '../contract';

const PREFIX = 'rillsheet.journal.';
const NAME_PREFIX = 'rillsheet.journal-name.';

function keepLines(entry: JournalEntry, linesBefore: string): boolean {
  try {
    localStorage.setItem(PREFIX + entry.planId, `${linesBefore}${entry.line}\n`);
    if (entry.name) localStorage.setItem(NAME_PREFIX + entry.planId, entry.name);
    return true;
  } catch {
    return false;
  }
}

/**
 * Keeps the journal in the browser's own store. A line that begins holds the whole plan and takes the place of all lines before
 * it. False where there is no room: the line is lost, what was kept before stays.
 */
export function appendToJournal(entry: JournalEntry): boolean {
  const linesBefore = entry.begins === true ? '' : (localStorage.getItem(PREFIX + entry.planId) ?? '');
  return keepLines(entry, linesBefore);
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
