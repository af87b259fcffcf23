import { firstExcess, type NestingLimits, type Outcome, type Place, type Problem } from '../units';
import { offsetOfSyntaxError } from './jsonSyntax';

/** Limits on text from outside, checked before anything is built from it. */
export interface JsonLimits extends NestingLimits {
  readonly maxCharacters: number;
}

/**
 * A plan with a picture underlay stays well under 64 million characters; no document of ours nests deeper than 20; the
 * largest drawing brought in as a reference is under a million values.
 */
export const JSON_LIMITS: JsonLimits = { maxCharacters: 64_000_000, maxDepth: 64, maxValues: 1_500_000 };

const FORBIDDEN_KEYS = new Set(['__proto__', 'constructor', 'prototype']);

/** Line and column (both from 1) of a character offset. */
export function placeInText(text: string, offset: number): { line: number; column: number } {
  const before = text.slice(0, Math.max(0, offset));
  const lastBreak = before.lastIndexOf('\n');
  let line = 1;
  for (let at = before.indexOf('\n'); at >= 0; at = before.indexOf('\n', at + 1)) line += 1;
  return { line, column: before.length - lastBreak };
}

/** A list or an object on the way down into a value, with the place that is looked at next. */
interface Level {
  readonly value: Readonly<Record<string, unknown>> | readonly unknown[];
  /** Null for a list. */
  readonly keys: readonly string[] | null;
  next: number;
}

const levelOf = (value: object): Level => ({
  value: value as Level['value'],
  keys: Array.isArray(value) ? null : Object.keys(value),
  next: 0,
});

const pathOf = (levels: readonly Level[]): string =>
  levels.reduce((path, { keys, next }) => {
    if (keys === null) return `${path}[${next - 1}]`;
    return path === '' ? keys[next - 1]! : `${path}.${keys[next - 1]}`;
  }, '');

/**
 * Paths of what a parsed value may not hold: keys that reach into prototypes, and numbers past the largest double.
 * Goes down one branch at a time and keeps nothing of what it has passed, so that millions of values cost no memory.
 */
function unsafeParts(root: unknown): { path: string; code: string }[] {
  const found: { path: string; code: string }[] = [];
  if (typeof root === 'number' && !Number.isFinite(root))
    return [{ path: '', code: 'file.number-too-large' }];
  const levels: Level[] = typeof root === 'object' && root !== null ? [levelOf(root)] : [];
  for (let level = levels.at(-1); level !== undefined && found.length < 50; level = levels.at(-1)) {
    const key = level.keys === null ? level.next : level.keys[level.next];
    if (key === undefined || (level.keys === null && level.next >= (level.value as unknown[]).length)) {
      levels.pop();
      continue;
    }
    level.next += 1;
    const value = (level.value as Record<string | number, unknown>)[key];
    if (typeof key === 'string' && FORBIDDEN_KEYS.has(key))
      found.push({ path: pathOf(levels), code: 'file.forbidden-key' });
    else if (typeof value === 'number' && !Number.isFinite(value))
      found.push({ path: pathOf(levels), code: 'file.number-too-large' });
    else if (typeof value === 'object' && value !== null) levels.push(levelOf(value));
  }
  return found;
}

/**
 * Parses JSON from outside. Size, nesting and number of values are checked before parsing, forbidden keys and infinite numbers after.
 *
 * @param fileName said in every problem's place
 * Fails: `file.too-large`, `file.too-deep`, `file.too-many-values`, `file.not-json`, `file.number-too-large`, `file.forbidden-key`, with line and column where known.
 */
export function parseJsonText(
  text: string,
  fileName: string,
  limits: JsonLimits = JSON_LIMITS,
): Outcome<unknown> {
  const fail = (
    code: string,
    where: Omit<Place, 'file'>,
    params: Problem['params'] = {},
  ): Outcome<unknown> => ({
    ok: false,
    problems: [{ code, severity: 'stop', where: { file: fileName, ...where }, params }],
  });
  if (text.length > limits.maxCharacters) {
    return fail('file.too-large', {}, { characters: text.length, limit: limits.maxCharacters });
  }
  const excess = firstExcess(text, limits);
  if (excess?.kind === 'deep')
    return fail('file.too-deep', placeInText(text, excess.offset), { limit: limits.maxDepth });
  if (excess?.kind === 'many')
    return fail('file.too-many-values', placeInText(text, excess.offset), { limit: limits.maxValues });
  let value: unknown;
  try {
    value = JSON.parse(text.charCodeAt(0) === 0xfeff ? text.slice(1) : text);
  } catch {
    const offset = Math.min(text.length, offsetOfSyntaxError(text));
    const isCut = offset >= text.trimEnd().length;
    return fail(isCut ? 'file.cut-short' : 'file.not-json', placeInText(text, offset));
  }
  const unsafe = unsafeParts(value);
  if (unsafe.length > 0) {
    return {
      ok: false,
      problems: unsafe.map(({ path, code }) => ({
        code,
        severity: 'stop',
        where: { file: fileName, path },
        params: {},
      })),
    };
  }
  return { ok: true, value, problems: [] };
}
