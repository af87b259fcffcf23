/** A cell of a table: words or a figure. */
export type Cell = string | number;

/** Characters that make a spreadsheet take a cell for a formula, by the OWASP advice on CSV injection. */
const FORMULA_START = /^[=+\-@\t\r]/;

function cellText(cell: Cell): string {
  if (typeof cell === 'number') return String(cell);
  const safe = FORMULA_START.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(safe) || safe !== safe.trim() ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/**
 * A table as CSV (RFC 4180): commas, quotes doubled, lines ended by CR LF. Begins with a byte-order mark, so that
 * spreadsheets read it as UTF-8. Words that a spreadsheet would run as a formula are led by an apostrophe; figures
 * are written as figures.
 */
export function csvText(rows: readonly (readonly Cell[])[]): string {
  return `\ufeff${rows.map((row) => `${row.map(cellText).join(',')}\r\n`).join('')}`;
}
