import type { Outcome, Params, Problem } from './problem';

/** Longest text a figure is read from; anything longer is a paste gone wrong. */
const LONGEST_TEXT = 80;

/** A figure found in a text: its value and the place just after it. */
export interface Scanned {
  readonly value: number;
  readonly end: number;
}

/** Builds the problem of a figure that could not be read. `column` is 1-based in the typed text. */
export function typedProblem(code: string, text: string, at: number, params: Params = {}): Problem {
  return {
    code: `units.${code}`,
    severity: 'stop',
    where: { column: at + 1 },
    params: { text: text.slice(0, LONGEST_TEXT), ...params },
  };
}

export const refused = (problem: Problem): Outcome<never> => ({ ok: false, problems: [problem] });
export const accepted = <T>(value: T): Outcome<T> => ({ ok: true, value, problems: [] });

/**
 * Brings the marks that keyboards and word processors use for feet, inches, degrees, minus and fractions to one form.
 * Refuses empty and overlong texts. The result keeps no leading or trailing space.
 */
export function tidyTyped(text: string): Outcome<string> {
  if (text.length > LONGEST_TEXT) return refused(typedProblem('too-long', text, LONGEST_TEXT));
  const tidy = text
    .replace(/[\u2032\u2019\u2018\u00b4`]/g, "'")
    .replace(/[\u2033\u201c\u201d]/g, '"')
    .replace(/''/g, '"')
    .replace(/[\u2212\u2013\u2010\u2011]/g, '-')
    .replace(/\u00bd/g, ' 1/2')
    .replace(/\u00bc/g, ' 1/4')
    .replace(/\u00be/g, ' 3/4')
    .replace(/[\u00a0\u202f\u2009\t]/g, ' ')
    .replace(/\u00b0/g, ' deg ')
    .trim();
  return tidy === '' ? refused(typedProblem('empty', text, 0)) : accepted(tidy);
}

export function skipSpaces(text: string, at: number): number {
  let next = at;
  while (text[next] === ' ') next++;
  return next;
}

const DECIMAL = /(?:\d+(?:[.,]\d*)?|[.,]\d+)/y;
const FRACTION = /(\d+)\s*\/\s*(\d+)/y;
const MIXED = /(\d+)(?:\s*-\s*|\s+)(\d+)\s*\/\s*(\d+)/y;

function match(pattern: RegExp, text: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at;
  return pattern.exec(text);
}

/**
 * Reads an unsigned number at `at`: decimal (point or comma), fraction ("1/2") or whole and fraction ("6-1/2", "6 1/2").
 * A comma before exactly three digits could mean thousands as well as a decimal and is refused.
 */
export function scanNumber(text: string, at: number): Outcome<Scanned> {
  const mixed = match(MIXED, text, at);
  const fraction = mixed ?? match(FRACTION, text, at);
  if (fraction) {
    const [whole, top, bottom] = mixed ? mixed.slice(1).map(Number) : [0, ...fraction.slice(1).map(Number)];
    if (!bottom) return refused(typedProblem('zero-denominator', text, at));
    return finiteFigure(whole! + top! / bottom, text, at, at + fraction[0].length);
  }
  const decimal = match(DECIMAL, text, at);
  if (!decimal) return refused(typedProblem('no-number', text, at));
  if (/^\d{1,3},\d{3}$/.test(decimal[0])) return refused(typedProblem('ambiguous-comma', text, at));
  return finiteFigure(Number(decimal[0].replace(',', '.')), text, at, at + decimal[0].length);
}

function finiteFigure(value: number, text: string, at: number, end: number): Outcome<Scanned> {
  return Number.isFinite(value) ? accepted({ value, end }) : refused(typedProblem('too-large', text, at));
}

/** Reads an optional sign; a bare text starts positive. */
export function scanSign(text: string, at: number): Scanned {
  const sign = text[at];
  return sign === '-' || sign === '+'
    ? { value: sign === '-' ? -1 : 1, end: skipSpaces(text, at + 1) }
    : { value: 1, end: at };
}

/** Words a unit may be typed as, each with what one of it is in SI. */
export type UnitTable = Readonly<Record<string, number>>;

const UNIT_WORD = /["'%]|[a-zµ²³]+[23]?(?:\s*\/\s*[a-z]+)?/iy;

/** Reads a unit word at `at`; `word` is empty where the text goes on with none. */
export function scanUnitWord(text: string, at: number): { readonly word: string; readonly end: number } {
  const start = skipSpaces(text, at);
  const found = match(UNIT_WORD, text, start);
  return found
    ? { word: found[0].toLowerCase().replace(/\s/g, ''), end: start + found[0].length }
    : { word: '', end: at };
}
