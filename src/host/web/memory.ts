const PREFIX = 'rillsheet.';
const JOURNALS = `${PREFIX}journal`;

/** What this page's own store remembers, by name. The journals beside it are no part of it. */
export function recallHere(): Readonly<Record<string, string>> {
  const names = Object.keys(localStorage).filter(
    (key) => key.startsWith(PREFIX) && !key.startsWith(JOURNALS),
  );
  return Object.fromEntries(names.map((key) => [key.slice(PREFIX.length), localStorage.getItem(key) ?? '']));
}

/** Keeps one text in this page's own store. A full store forgets it. */
export function rememberHere(name: string, value: string | null): void {
  try {
    if (value === null) localStorage.removeItem(PREFIX + name);
    else localStorage.setItem(PREFIX + name, value);
  } catch {
    // A look or a key that is not kept is chosen again.
  }
}
