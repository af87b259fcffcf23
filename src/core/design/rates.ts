import type { BedLayout } from '../layout';
import type { Zone } from '../supply';

/**
 * Water given to each bed part: the solved flow of its emitters, m3/s, by part id.
 * Emitters belong to a part by the run they sit on.
 */
export function flowByBed(parts: readonly BedLayout[], zones: readonly Zone[]): ReadonlyMap<string, number> {
  const bedOfRun = new Map(parts.flatMap((part) => part.runs.map((run) => [run.id, part.bedId] as const)));
  const flows = new Map<string, number>();
  for (const zone of zones) {
    const bedOfIndex = zone.emitters.runIds.map((runId) => bedOfRun.get(runId) ?? null);
    zone.emitters.flowM3s.forEach((flowM3s, i) => {
      const bedId = bedOfIndex[zone.emitters.run[i] ?? -1];
      if (bedId !== null && bedId !== undefined) flows.set(bedId, (flows.get(bedId) ?? 0) + flowM3s);
    });
  }
  return flows;
}

/**
 * Application rate as laid, m/s: solved flow over the ground that is served. Null where nothing was solved.
 * Source: continuity (depth = volume / area).
 */
export function laidApplicationRateMs(part: BedLayout, flowM3s: number | undefined): number | null {
  return flowM3s === undefined || part.usableAreaM2 <= 0 ? null : flowM3s / part.usableAreaM2;
}
