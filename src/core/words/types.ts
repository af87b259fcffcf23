import type { Params, Printer } from '../units';

/** What a person reads of one problem: what happened, why it matters, what to do next. Where is added by `say`. */
export interface Sentence {
  readonly what: string;
  readonly why: string;
  readonly next: string;
}

/** Sentences of one room, by permanent code. `print` prints figures in the chosen units. */
export type Sentences = Readonly<Record<string, (params: Params, print: Printer) => Sentence>>;

/** Reads a numeric parameter; 0 where it is absent, so that a sentence always comes out. */
export const figure = (params: Params, key: string): number => {
  const value = params[key];
  return typeof value === 'number' ? value : 0;
};
/** Reads a text parameter. */
export const text = (params: Params, key: string): string => {
  const value = params[key];
  return value === undefined ? '' : Array.isArray(value) ? value.join(', ') : String(value);
};
