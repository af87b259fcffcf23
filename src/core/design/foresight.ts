import {
  type BuildTolerance,
  buildTolerance,
  type FaultFingerprints,
  type FoundPressure,
  faultFingerprints,
  foundPressure,
  type Zone,
} from '../supply';
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

/** The parts of what is foreseen of a zone, each worked out when it is asked for and remembered. */
function partsOf(design: Design, zone: Zone, cache: DesignCache) {
  const { plan, catalog } = design;
  const inputs = restsOn(design, zone);
  return {
    found: () => cache.recall('foresee found', zone.id, inputs, () => foundPressure(plan, zone)),
    tolerance: () => cache.recall('foresee tolerance', zone.id, inputs, () => buildTolerance(plan, zone)),
    fingerprints: () =>
      cache.recall('foresee faults', zone.id, inputs, () =>
        faultFingerprints(
          zone,
          catalog,
          design.beds.map(({ layout }) => layout),
        ),
      ),
  };
}

/**
 * The work of `withForesight` in steps short enough to be done between other things, each remembered in the cache. When
 * all are done `withForesight` with the same cache takes no time.
 */
export function foresightSteps(design: Design, cache: DesignCache): readonly (() => void)[] {
  return design.supply.zones.flatMap((zone) => Object.values(partsOf(design, zone, cache)));
}

/**
 * The design with everything foreseen of it. Apart from the design itself because it takes longer and nobody waits for it
 * while drawing: the window shows the design first and this when it comes.
 */
export function withForesight(design: Design, cache: DesignCache = createDesignCache()): Design {
  const zones = design.supply.zones.map((zone): ZoneForesight => {
    const parts = partsOf(design, zone, cache);
    return {
      zoneId: zone.id,
      found: parts.found(),
      tolerance: parts.tolerance(),
      fingerprints: parts.fingerprints(),
    };
  });
  return { ...design, foresight: { zones } };
}
