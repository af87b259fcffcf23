import type { Design } from '../../core/design';
import type { DesignedPlace } from '../tools/catchIndex';

const memory = new WeakMap<Design, readonly DesignedPlace[]>();
let last: readonly DesignedPlace[] = [];

const isSame = (a: DesignedPlace, b: DesignedPlace | undefined): boolean =>
  a.at.x === b?.at.x && a.at.y === b.at.y && a.owner === b.owner;

/**
 * Where headers begin and end as designed: valve assemblies and stub-ups. While nothing of that moves the same list comes
 * back, design after design, so that what can be caught need not be sorted anew at every step of a drag.
 */
export function pipeEndsOf(design: Design): readonly DesignedPlace[] {
  const known = memory.get(design);
  if (known) return known;
  const places = [
    ...design.supply.zones.map((zone) => ({
      at: zone.assemblyAt,
      owner: `the valve assembly of zone ${zone.number}`,
    })),
    ...design.beds
      .filter((bed) => bed.layout.status === 'routed')
      .map((bed) => ({ at: bed.layout.stubUp, owner: `the stub-up of ${bed.name}` })),
  ];
  const isLast = places.length === last.length && places.every((place, index) => isSame(place, last[index]));
  if (!isLast) last = places;
  memory.set(design, last);
  return last;
}
