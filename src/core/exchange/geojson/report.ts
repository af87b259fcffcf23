import type { Params, Place, Problem, Severity } from '../../units';

/** Gathers what is wrong with a file, each entry with its file, feature and path. */
export interface Report {
  readonly problems: readonly Problem[];
  readonly add: (severity: Severity, code: string, where: Place, params?: Params) => void;
}

export function startReport(fileName: string): Report {
  const problems: Problem[] = [];
  return {
    problems,
    add: (severity, code, where, params = {}) => {
      problems.push({ code: `exchange.${code}`, severity, where: { file: fileName, ...where }, params });
    },
  };
}

/** Refuses names that every object of the language already answers to, such as "constructor". */
export const isPlainKey = (name: string): boolean => !(name in Object.prototype);

/** A plain JSON object, as opposed to a list, a text or nothing. */
export const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Reads an object's own member; nothing inherited ever answers. */
export const member = (object: Readonly<Record<string, unknown>>, key: string): unknown =>
  Object.hasOwn(object, key) ? object[key] : undefined;
