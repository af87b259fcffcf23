import {
  type BuildTolerance,
  buildToleranceSteps,
  type FaultFingerprints,
  type FoundPressure,
  faultFingerprintSteps,
  foundPressureSteps,
  type Zone,
} from '../supply';
import { allSteps, type Steps } from '../units';
import { createDesignCache, type DesignCache } from './cache';
import type { Design } from './types';

/** What is known of a zone before it is built. Each part null where the zone was not solved or is too large to be tried out. */
export interface ZoneForesight {
  readonly zoneId: string;
  readonly found: FoundPressure | null;
  readonly tolerance: BuildTolerance | null;
  readonly fingerprints: FaultFingerprints | null;
}

/** What follows from a finished design once it stands: what the crew may find, and what it would mean. */
export interface Foresight {
  readonly zones: readonly ZoneForesight[];
}

/** The zone's own part of what it rests on: anything else may change without what is foreseen of it changing. */
function restsOn(design: Design, zone: Zone): readonly unknown[] {
  const layouts = design.beds.map(({ layout }) => layout).filter(({ bedId }) => zone.bedIds.includes(bedId));
  return [zone, design.catalog, design.plan.settings, design.plan.sources, ...layouts];
}

/** What is foreseen of a zone, each part remembered once it is worked out. */
function* zoneSteps(design: Design, zone: Zone, cache: DesignCache): Steps<ZoneForesight> {
  const { plan, catalog } = design;
  const layouts = design.beds.map(({ layout }) => layout);
  const inputs = restsOn(design, zone);
  return {
    zoneId: zone.id,
    found: yield* cache.recallInSteps('foresee found', zone.id, inputs, () => foundPressureSteps(plan, zone)),
    tolerance: yield* cache.recallInSteps('foresee tolerance', zone.id, inputs, () =>
      buildToleranceSteps(plan, zone),
    ),
    fingerprints: yield* cache.recallInSteps('foresee faults', zone.id, inputs, () =>
      faultFingerprintSteps(zone, catalog, layouts),
    ),
  };
}

/** The work of `withForesight`, a solve or a few of one zone a step. */
export function* foresightSteps(design: Design, cache: DesignCache): Steps<Design> {
  const zones: ZoneForesight[] = [];
  for (const zone of design.supply.zones) zones.push(yield* zoneSteps(design, zone, cache));
  return { ...design, foresight: { zones } };
}

/**
 * The design with everything foreseen of it. Apart from the design itself because it takes longer and nobody waits for it
 * while drawing: the window shows the design first and this when it comes.
 */
export function withForesight(design: Design, cache: DesignCache = createDesignCache()): Design {
  return allSteps(foresightSteps(design, cache));
}
