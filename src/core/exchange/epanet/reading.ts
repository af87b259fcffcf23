import type { Place, Problem } from '../../units';
import type { FileOptions } from './options';
import type { Sections } from './sections';
import type { FileUnits } from './units';

/** What the parts of the reader share. */
export interface Reading {
  readonly sections: Sections;
  readonly options: FileOptions;
  readonly units: FileUnits;
  readonly problems: Problem[];
}

/** A finite number from a word, or a problem with its place. */
export function readNumber(
  word: string | undefined,
  where: Place,
  problems: Problem[],
  what: string,
): number {
  const value = word === undefined || word === '' ? Number.NaN : Number(word);
  if (Number.isFinite(value)) return value;
  problems.push({
    code: word === undefined ? 'exchange.inp-too-short' : 'exchange.inp-bad-number',
    severity: 'stop',
    where,
    params: { text: word ?? '', what },
  });
  return 0;
}

/** Adds a problem that stops the reading. */
export function sayAt(reading: Reading, where: Place, code: string, text: string) {
  reading.problems.push({ code: `exchange.inp-${code}`, severity: 'stop', where, params: { text } });
}
