import { type ParseError, parse } from 'jsonc-parser';
import type { Outcome, Place, Problem } from '../units';

/** Limits on text from outside, checked before anything is built from it. */
export interface JsonLimits {
  readonly maxCharacters: number;
  readonly maxDepth: number;
}

/** A plan with a picture underlay stays well under 64 million characters; no document of ours nests deeper than 20. */
export const JSON_LIMITS: JsonLimits = { maxCharacters: 64_000_000, maxDepth: 64 };

const FORBIDDEN_KEYS = new Set(['__proto__', 'constructor', 'prototype']);

/** Line and column (both from 1) of a character offset. */
export function placeInText(text: string, offset: number): { line: number; column: number } {
  const before = text.slice(0, Math.max(0, offset));
  const lastBreak = before.lastIndexOf('\n');
  let line = 1;
  for (let at = before.indexOf('\n'); at >= 0; at = before.indexOf('\n', at + 1)) line += 1;
  return { line, column: before.length - lastBreak };
}

/** Offset of the first bracket that nests deeper than allowed, or -1. Walks the text; never recurses. */
function offsetOfTooDeep(text: string, maxDepth: number): number {
  let depth = 0;
  let isInString = false;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (isInString) {
      if (code === 92) at += 1;
      else if (code === 34) isInString = false;
    } else if (code === 34) isInString = true;
    else if (code === 91 || code === 123) {
      depth += 1;
      if (depth > maxDepth) return at;
    } else if (code === 93 || code === 125) depth -= 1;
  }
  return -1;
}

/** Where a text stops being JSON. Engines do not agree on saying it, so a second reader that reports offsets is asked, only then. */
function offsetOfSyntaxError(text: string): number {
  const errors: ParseError[] = [];
  parse(text, errors, { disallowComments: true, allowTrailingComma: false });
  return errors[0]?.offset ?? text.length;
}

/** Paths of what a parsed value may not hold: keys that reach into prototypes, and numbers past the largest double. */
function unsafeParts(root: unknown): { path: string; code: string }[] {
  const found: { path: string; code: string }[] = [];
  const waiting: { value: unknown; path: string }[] = [{ value: root, path: '' }];
  for (let next = waiting.pop(); next !== undefined && found.length < 50; next = waiting.pop()) {
    const { value, path } = next;
    if (typeof value === 'number' && !Number.isFinite(value))
      found.push({ path, code: 'file.number-too-large' });
    if (typeof value !== 'object' || value === null) continue;
    if (Array.isArray(value)) {
      for (let i = value.length - 1; i >= 0; i -= 1) waiting.push({ value: value[i], path: `${path}[${i}]` });
      continue;
    }
    for (const key of Object.keys(value).reverse()) {
      const inner = path === '' ? key : `${path}.${key}`;
      if (FORBIDDEN_KEYS.has(key)) found.push({ path: inner, code: 'file.forbidden-key' });
      else waiting.push({ value: (value as Record<string, unknown>)[key], path: inner });
    }
  }
  return found;
}

/**
 * Parses JSON from outside. Size and nesting are checked before parsing, forbidden keys and infinite numbers after.
 *
 * @param fileName said in every problem's place
 * Fails: `file.too-large`, `file.too-deep`, `file.not-json`, `file.number-too-large`, `file.forbidden-key`, with line and column where known.
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
  const tooDeepAt = offsetOfTooDeep(text, limits.maxDepth);
  if (tooDeepAt >= 0) return fail('file.too-deep', placeInText(text, tooDeepAt), { limit: limits.maxDepth });
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
