import type { Place } from '../../units';
import { isObject, member, type Report } from './report';

/** Reads the properties of one feature; a value that is wrong is reported, left out, and never guessed. */
export interface Properties {
  readonly has: (key: string) => boolean;
  readonly raw: (key: string) => unknown;
  /** A finite number within [least, most], or null where absent or wrong. */
  readonly number: (key: string, least: number, most: number) => number | null;
  readonly text: (key: string) => string;
  readonly flag: (key: string) => boolean;
  /** One of the words of a list; spaces, capitals and underscores do not matter. */
  readonly choice: <T extends string>(key: string, choices: readonly T[]) => T | null;
  readonly refuse: (key: string, code: string, params?: Readonly<Record<string, string | number>>) => null;
  /** Names of properties that nothing asked for. */
  readonly unasked: () => readonly string[];
}

const LONGEST_TEXT = 20_000;

/** The word as the plan spells it: "Sandy loam" is "sandy-loam". */
export const hyphenated = (word: string): string =>
  word
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, '-');

export function propertiesOf(value: unknown, place: Place, report: Report): Properties {
  const properties = isObject(value) ? value : {};
  const asked = new Set<string>(['kind', 'id']);
  const raw = (key: string): unknown => {
    asked.add(key);
    return member(properties, key) ?? undefined;
  };
  const refuse: Properties['refuse'] = (key, code, params = {}) => {
    const given = String(JSON.stringify(member(properties, key)) ?? '').slice(0, 80);
    report.add(
      'stop',
      code,
      { ...place, path: `${place.path}.properties.${key}` },
      { key, given, ...params },
    );
    return null;
  };
  return {
    raw,
    refuse,
    has: (key) => raw(key) !== undefined,
    number: (key, least, most) => {
      const number = raw(key);
      if (number === undefined) return null;
      const isFine = typeof number === 'number' && number >= least && number <= most;
      return isFine ? number : refuse(key, 'bad-number', { least, most });
    },
    text: (key) => {
      const text = raw(key);
      if (text === undefined) return '';
      if (typeof text === 'number') return String(text);
      return typeof text === 'string' && text.length <= LONGEST_TEXT ? text : (refuse(key, 'bad-text') ?? '');
    },
    flag: (key) => {
      const flag = raw(key);
      if (flag === undefined || typeof flag === 'boolean') return flag === true;
      refuse(key, 'bad-flag');
      return false;
    },
    choice: <T extends string>(key: string, choices: readonly T[]) => {
      const word = raw(key);
      if (word === undefined) return null;
      const found =
        typeof word === 'string' ? choices.find((choice) => choice === hyphenated(word)) : undefined;
      return found ?? refuse(key, 'bad-choice', { accepted: choices.join(', ') });
    },
    unasked: () => Object.keys(properties).filter((key) => !asked.has(key)),
  };
}
