import type { Place } from '../../units';
import { isPlainKey, type Report } from './report';

const LONGEST_ID = 200;

/** Hands out the ids of a file's features: their own wherever one can be kept. */
export interface Ids {
  /** `kind` names a feature that has no id of its own: "bed-1". */
  readonly claim: (own: unknown, kind: string, place: Place) => string;
  /** Takes an id that parts of a feature use, such as "id/2". */
  readonly reserve: (id: string) => void;
}

export function startIds(report: Report): Ids {
  const taken = new Set<string>();
  const firstFree = (stem: string, from: number): string => {
    let n = from;
    while (taken.has(`${stem}-${n}`)) n++;
    return `${stem}-${n}`;
  };
  return {
    reserve: (id) => {
      taken.add(id);
    },
    claim: (own, kind, place) => {
      const given = typeof own === 'number' || typeof own === 'string' ? String(own) : '';
      const isUsable = given !== '' && given.length <= LONGEST_ID && isPlainKey(given);
      const isFree = isUsable && !taken.has(given);
      const id = isFree
        ? given
        : isUsable
          ? firstFree(given.slice(0, LONGEST_ID - 8), 2)
          : firstFree(kind, 1);
      if (given !== '' && !isFree) {
        report.add('warn', 'id-changed', { ...place, id }, { given: given.slice(0, 80), becomes: id });
      }
      taken.add(id);
      return id;
    },
  };
}
