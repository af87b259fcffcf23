import type { Zone } from '../supply';
import type { Params } from '../units';
import type { ReviewedBed, ReviewInput } from './types';

/** What every sentence about a zone says of it. */
export const zoneParams = (zone: Zone): Params => ({ zone: zone.number, zoneName: zone.name });

/** The bed whose layout holds a run; undefined where none does. */
export const bedOfRun = ({ beds }: ReviewInput, runId: string): ReviewedBed | undefined =>
  beds.find(({ layout }) => layout.runs.some((run) => run.id === runId));

/** The emitter with the greatest head in each bed of a zone. */
export function emittersByBed(
  input: ReviewInput,
  zone: Zone,
): {
  readonly bed: ReviewedBed;
  readonly highest: { readonly headM: number; readonly x: number; readonly y: number };
}[] {
  const bedByRun = zone.emitters.runIds.map((runId) => bedOfRun(input, runId));
  const highest = new Map<ReviewedBed, { headM: number; x: number; y: number }>();
  zone.emitters.headM.forEach((headM, index) => {
    const bed = bedByRun[zone.emitters.run[index]!];
    const known = bed ? highest.get(bed) : undefined;
    if (bed && headM > (known?.headM ?? Number.NEGATIVE_INFINITY)) {
      highest.set(bed, { headM, x: zone.emitters.x[index]!, y: zone.emitters.y[index]! });
    }
  });
  return [...highest].map(([bed, top]) => ({ bed, highest: top }));
}

/** Pressure head at a named node of a zone, m; null where the zone did not settle or has no such node. */
export function headAt(zone: Zone, nodeId: string): number | null {
  const at = zone.network.nodes.findIndex(({ id }) => id === nodeId);
  if (at < 0 || zone.solution.status !== 'settled') return null;
  return zone.solution.headM[at]! - zone.network.nodes[at]!.elevationM;
}

/** Heights of a zone's emitters, m. */
export function emitterHeights(zone: Zone): number[] {
  return zone.network.nodes
    .filter(({ emitter }) => emitter !== undefined)
    .map(({ elevationM }) => elevationM);
}
