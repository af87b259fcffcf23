import type { Place, Printer, Problem } from '../units';
import { catalogSentences } from './catalog';
import { epanetSentences } from './epanet';
import { exchangeSentences } from './exchange';
import { hostSentences } from './host';
import { hydraulicsSentences } from './hydraulics';
import { layoutSentences } from './layout';
import { planSentences } from './plan';
import { reviewSentences } from './review';
import { soilwaterSentences } from './soilwater';
import { supplySentences } from './supply';
import { takeoffSentences } from './takeoff';
import type { Sentences } from './types';
import { unitsSentences } from './units';
import { upkeepSentences } from './upkeep';

/** Every sentence there is, room by room. A code stands in one room only; a test holds that. */
export const SENTENCES: readonly Sentences[] = [
  planSentences,
  unitsSentences,
  exchangeSentences,
  takeoffSentences,
  hydraulicsSentences,
  soilwaterSentences,
  upkeepSentences,
  epanetSentences,
  layoutSentences,
  supplySentences,
  reviewSentences,
  catalogSentences,
  hostSentences,
];

/** A problem in words. */
export interface SaidProblem {
  readonly what: string;
  readonly where: string;
  readonly why: string;
  readonly next: string;
}

/**
 * Where something is, as a person reads it: "garden.json, line 4, column 12" or "bed A at 3.20, 1.05".
 *
 * @param names the names of plan items by id
 */
export function sayPlace(place: Place, print: Printer, names: Readonly<Record<string, string>> = {}): string {
  const parts: string[] = [];
  if (place.file !== undefined) parts.push(place.file);
  if (place.line !== undefined)
    parts.push(
      place.column === undefined ? `line ${place.line}` : `line ${place.line}, column ${place.column}`,
    );
  if (place.path !== undefined && place.path !== '') parts.push(place.path);
  if (place.id !== undefined) parts.push(names[place.id] ?? place.id);
  if (place.x !== undefined && place.y !== undefined)
    parts.push(`at east ${print.length(place.x)}, north ${print.length(place.y)}`);
  return parts.join(', ');
}

/** The sentence function of a code, or null where no room knows it. */
export function sentenceOf(code: string): Sentences[string] | null {
  for (const room of SENTENCES) {
    const sentence = Object.hasOwn(room, code) ? room[code] : undefined;
    if (sentence !== undefined) return sentence;
  }
  return null;
}

/** What problems call the beds and runs they are about. */
const NAMED_PARAMS = ['bed', 'bedName', 'beds', 'run'] as const;

/** A run, and a bed without a name of its own, is told by its id; where the caller knows what a person calls it, that is said. */
function withNames(params: Problem['params'], names: Readonly<Record<string, string>>): Problem['params'] {
  const nameOf = (id: string): string => (Object.hasOwn(names, id) ? (names[id] ?? id) : id);
  const said = NAMED_PARAMS.flatMap((key): readonly (readonly [string, string | readonly string[]])[] => {
    const value = params[key];
    if (typeof value === 'string') return [[key, value.split(', ').map(nameOf).join(', ')]];
    return value === undefined || typeof value === 'number' ? [] : [[key, value.map(nameOf)]];
  });
  return said.length === 0 ? params : { ...params, ...Object.fromEntries(said) };
}

/** Says a problem: what happened, where, why it matters, what to do next. A code without words says itself. */
export function sayProblem(
  problem: Problem,
  print: Printer,
  names: Readonly<Record<string, string>> = {},
): SaidProblem {
  const sentence = sentenceOf(problem.code);
  const where = sayPlace(problem.where, print, names);
  if (sentence === null) return { what: problem.code, where, why: '', next: '' };
  return { ...sentence(withNames(problem.params, names), print), where };
}
