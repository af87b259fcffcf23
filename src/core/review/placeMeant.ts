import { markedRunsOf } from '../layout';
import type { Zone } from '../supply';
import type { ReviewedBed } from './types';

/**
 * The run whose flush valve a crew's words name by its mark, "flush valve B1"; where the zone has only one, that one.
 * Null where several could be meant: a pressure of one bed held against another's would name a fault that is not there.
 */
export function flushRunMeant(
  place: string,
  { tubing }: Pick<Zone, 'tubing'>,
  beds: readonly ReviewedBed[],
): string | null {
  const named = new Set(place.toUpperCase().match(/[A-Z]+[0-9]+/g) ?? []);
  const marks = beds.flatMap(({ layout, mark = '' }) => (mark === '' ? [] : markedRunsOf(layout, mark)));
  const meant = tubing.flush.find(({ runId }) =>
    marks.some(({ run, mark }) => run.id === runId && named.has(mark.toUpperCase())),
  );
  if (meant !== undefined) return meant.runId;
  return tubing.flush.length === 1 && named.size === 0 ? tubing.flush[0]!.runId : null;
}

/** The bed whose stub-up is named, "at the stub-up, Rose border", by name or letter; the only one of a zone; else null. */
export function stubUpBedMeant(
  place: string,
  { tubing }: Pick<Zone, 'tubing'>,
  beds: readonly ReviewedBed[],
): string | null {
  const [, named = ''] = place.split(',');
  const wanted = named.trim().toLowerCase();
  const ids = [...new Set(tubing.stubUps.map(({ bedId }) => bedId))];
  if (wanted === '') return ids.length === 1 ? ids[0]! : null;
  const isCalled = ({ id, name, mark = '' }: ReviewedBed): boolean =>
    ids.includes(id) && [name, mark].some((word) => word !== '' && word.toLowerCase() === wanted);
  return beds.find(isCalled)?.id ?? null;
}
