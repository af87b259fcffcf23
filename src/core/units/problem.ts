import type { Source } from './figures';

/** `stop` blocks construction, `warn` wants a look, `note` states an assumption. */
export type Severity = 'stop' | 'warn' | 'note';

/** Where on the plan or in a file something is wrong. All parts optional: the more the better. */
export interface Place {
  readonly id?: string;
  /** Plan metres. */
  readonly x?: number;
  readonly y?: number;
  readonly file?: string;
  /** 1-based line and column in the file. */
  readonly line?: number;
  readonly column?: number;
  /** A path inside a document: "features[3].geometry". */
  readonly path?: string;
}

/** Values a sentence may need. Numbers are SI; their unit is said by the suffix of the key (lengthM, headM, flowM3s, ratio, count). */
export type Params = Readonly<Record<string, string | number | readonly string[]>>;

/**
 * One thing wrong, or worth saying, as data. `core/words` turns it into what happened, where, why and what to do next.
 * Findings of review and problems of stages have this one shape.
 */
export interface Problem {
  /** Permanent code: "room.what-it-is", e.g. `layout.too-narrow`. */
  readonly code: string;
  readonly severity: Severity;
  readonly where: Place;
  readonly params: Params;
  readonly value?: number;
  readonly limit?: number;
  readonly unit?: string;
  readonly source?: Source;
  /** The command that mends it, where the mend is mechanical (name and parameters of a command of `core/plan`). */
  readonly mends?: readonly Mend[];
}

/** A command that mends a problem, with the code of the words that say what it changes. */
export interface Mend {
  readonly words: string;
  readonly command: string;
  readonly params: Readonly<Record<string, unknown>>;
}

/** A value, or every reason why there is none. Warnings travel with a value too. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T; readonly problems: readonly Problem[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };
