import type { Design, DesignedBed } from '../../core/design';
import type { Plan } from '../../core/plan';

/**
 * A design with the tubing of some beds of `plan` as it was routed since: each keeps the zone it hung on, and its solved rate is not
 * known until the design of the new tubing comes. Beds that `plan` no longer has go.
 */
export function withRoutes(design: Design, routed: readonly DesignedBed[], plan: Plan): Design {
  const anew = new Set(routed.map((bed) => bed.sourceBedId));
  const zoneOf = new Map(design.beds.map((bed) => [bed.sourceBedId, bed.zoneId]));
  const beds = [
    ...design.beds.filter((bed) => !anew.has(bed.sourceBedId) && Object.hasOwn(plan.beds, bed.sourceBedId)),
    ...routed.map((bed) => ({ ...bed, zoneId: zoneOf.get(bed.sourceBedId) ?? null })),
  ];
  return { ...design, beds: beds.sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)) };
}
