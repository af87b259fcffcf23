import { type Catalog, setting } from '../catalog';
import { nearestOnPath, type PlanPoint, type Polyline, pointAlong, polylineLengthM } from '../geometry';
import type { Plan } from '../plan';
import { pavingAt, sleevePath, spansAlong } from './crossings';
import type { Site } from './site';
import { pipesOf } from './sizing';
import type { Sleeve } from './types';

/** A wire that crosses this near a sleeve, on both sides of the paving, is led through it. */
const LED_THROUGH_M = 1;

/**
 * Sleeves for control wire: one for every crossing of paving where no sleeve of a pipe lies beside it. Wires that cross
 * beside one another share one. The thinnest sleeve of the catalogue takes the wires of a garden (common practice, no source).
 *
 * @param sleeves those of the pipes
 */
export function wireSleevesFor(
  plan: Plan,
  catalog: Catalog,
  site: Site,
  wires: readonly Polyline[],
  sleeves: readonly Sleeve[],
): Sleeve[] {
  const [thinnest] = pipesOf(catalog, 'sleeve');
  if (!thinnest) return [];
  const extraM = setting(plan.settings, 'sleeveBeyondM');
  const own: Sleeve[] = [];
  for (const wire of wires) {
    for (const span of spansAlong(site.paved, wire)) {
      const ends = [span.fromM, span.toM].map((alongM) => pointAlong(wire, alongM).at);
      if ([...sleeves, ...own].some(({ path }) => liesAlong(ends, path))) continue;
      const path = sleevePath(wire, span, extraM);
      own.push({
        id: `wire-sleeve-${own.length + 1}`,
        path,
        lengthM: polylineLengthM(path),
        pipe: thinnest,
        under: pavingAt(site, pointAlong(wire, (span.fromM + span.toM) / 2).at),
        carries: 'wire',
      });
    }
  }
  return own;
}

const liesAlong = (points: readonly PlanPoint[], path: Polyline): boolean =>
  points.every((point) => nearestOnPath(point, path).distanceM <= LED_THROUGH_M);
