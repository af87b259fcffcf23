import type { FieldReading } from '../plan';
import { type FaultFingerprints, faultFingerprints, rankFaults, type Zone } from '../supply';
import type { Problem } from '../units';
import { flushRunMeant, stubUpBedMeant } from './placeMeant';
import { readingPlace } from './readingPlace';
import type { ReviewedBed, ReviewInput, Rule } from './types';

/** Causes named; more would not be looked for. */
const MOST_CAUSES = 4;

/** Position among the test points of the place that a crew's words mean; -1 where they name none, or could mean several. */
function pointMeant(
  place: string,
  zone: Zone,
  { points }: FaultFingerprints,
  beds: readonly ReviewedBed[],
): number {
  const kind = readingPlace(place);
  if (kind === 'flush' || kind === 'stub-up') {
    const ofId = kind === 'flush' ? flushRunMeant(place, zone, beds) : stubUpBedMeant(place, zone, beds);
    return points.findIndex((point) => point.kind === kind && point.ofId === ofId);
  }
  return points.findIndex((point) => point.kind === kind);
}

/** Pressures read in a zone, by the position of their place among the test points; the last reading of a place counts. */
function pressuresOf(
  zone: Zone,
  prints: FaultFingerprints,
  readings: readonly FieldReading[],
  beds: readonly ReviewedBed[],
): ReadonlyMap<number, number> {
  const read = new Map<number, number>();
  for (const { zoneKey, place, headM } of readings) {
    if (headM === null || zoneKey === null) continue;
    if (![zone.id, String(zone.number), zone.zoneKey].includes(zoneKey)) continue;
    const point = pointMeant(place, zone, prints, beds);
    if (point >= 0) read.set(point, headM);
  }
  return read;
}

/**
 * What a zone's pressures, typed back in, mean: every single fault was solved, and those that give these readings are
 * named, best fit first. Nothing is said where the readings agree with the plan or were not taken.
 */
export const readingsMean: Rule = (input) => {
  const readings = Object.values(input.plan.readings).sort((a, b) => (a.id < b.id ? -1 : 1));
  if (readings.every(({ headM }) => headM === null)) return [];
  return input.supply.zones.flatMap((zone) => causesIn(zone, readings, input));
};

function causesIn(
  zone: Zone,
  readings: readonly FieldReading[],
  { catalog, beds }: ReviewInput,
): readonly Problem[] {
  const prints = faultFingerprints(
    zone,
    catalog,
    beds.map(({ layout }) => layout),
  );
  if (prints === null) return [];
  const read = pressuresOf(zone, prints, readings, beds);
  if (read.size === 0) return [];
  const causes = rankFaults(prints, read).map(({ fault }) => {
    const bed = beds.find(({ layout }) => layout.runs.some(({ id }) => id === fault.runId));
    return `${fault.code}|${bed?.name ?? ''}`;
  });
  if (causes.length === 0) return [];
  return [
    {
      code: 'review.readings-mean',
      severity: 'warn',
      where: { id: zone.id },
      params: {
        zone: String(zone.number),
        readCount: read.size,
        causes: [...new Set(causes)].slice(0, MOST_CAUSES),
      },
      source: {
        text: 'every single fault solved on the network as drawn; a gauge tells 2 psi or a tenth apart',
        standing: 'ours',
      },
    },
  ];
}
