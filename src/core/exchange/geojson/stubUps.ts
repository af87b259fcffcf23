import { distanceToRingM, type PlanPoint } from '../../geometry';
import type { Bed } from '../../plan';
import type { Place } from '../../units';
import type { Report } from './report';

/** A stub-up drawn as a feature of its own; `bedId` null: it belongs to the nearest bed. */
export interface StubUpPoint {
  readonly at: PlanPoint;
  readonly bedId: string | null;
  readonly elevationM: number | null;
  readonly place: Place;
}

/**
 * Gives each stub-up point to its bed, in place. The bed named, else the nearest outline; the choice is reported.
 * A bed takes one: a second is reported and left out.
 */
export function placeStubUps(points: readonly StubUpPoint[], beds: [string, Bed][], report: Report): void {
  const served = new Set<string>();
  for (const point of points) {
    const index =
      point.bedId === null ? nearestBed(point.at, beds) : beds.findIndex(([id]) => id === point.bedId);
    const entry = beds[index];
    if (!entry) {
      report.add('stop', 'stub-up-without-bed', point.place, { bed: point.bedId ?? '' });
      continue;
    }
    const [id, bed] = entry;
    if (served.has(id)) {
      report.add('warn', 'second-stub-up', point.place, { bed: id });
      continue;
    }
    served.add(id);
    if (point.bedId === null) report.add('note', 'stub-up-by-nearness', point.place, { bed: id });
    beds[index] = [id, { ...bed, stubUp: point.at, stubUpElevationM: point.elevationM }];
  }
}

function nearestBed(at: PlanPoint, beds: readonly [string, Bed][]): number {
  let nearest = -1;
  let nearestM = Number.POSITIVE_INFINITY;
  for (const [index, [, bed]] of beds.entries()) {
    for (const ring of bed.rings) {
      const distanceM = distanceToRingM(at, ring.points);
      if (distanceM < nearestM) {
        nearestM = distanceM;
        nearest = index;
      }
    }
  }
  return nearest;
}
