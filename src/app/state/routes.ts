import type { Design, DesignedBed } from '../../core/design';

/**
 * A design with the tubing of some beds as it was routed since: each keeps the zone it hung on, and its solved rate is not known
 * until the design of the new tubing comes.
 */
export function withRoutes(design: Design, routed: readonly DesignedBed[]): Design {
  const anew = new Set(routed.map((bed) => bed.sourceBedId));
  const zoneOf = new Map(design.beds.map((bed) => [bed.sourceBedId, bed.zoneId]));
  const beds = [
    ...design.beds.filter((bed) => !anew.has(bed.sourceBedId)),
    ...routed.map((bed) => ({ ...bed, zoneId: zoneOf.get(bed.sourceBedId) ?? null })),
  ];
  return { ...design, beds: beds.sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)) };
}
