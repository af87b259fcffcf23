import type { Catalog } from '../core/catalog';
import type { Design, DesignedBed } from '../core/design';
import type { Plan } from '../core/plan';
import type { Zone } from '../core/supply';
import type { DesignParcel, Sent } from './protocol';

/** What both ends remember of the last parcel. */
export interface ParcelMemory {
  readonly beds: ReadonlyMap<string, DesignedBed>;
  readonly zones: ReadonlyMap<string, Zone>;
  /** Zones that crossed without their network. */
  readonly bareZoneIds: ReadonlySet<string>;
}

export const NOTHING_SENT: ParcelMemory = { beds: new Map(), zones: new Map(), bareZoneIds: new Set() };

const byId = <T extends { readonly id: string }>(items: readonly T[]): ReadonlyMap<string, T> =>
  new Map(items.map((item) => [item.id, item]));

/** What either end remembers once a design has crossed in a parcel. */
export const memoryOf = (design: Design, parcel: DesignParcel, before: ParcelMemory): ParcelMemory => ({
  beds: byId(design.beds),
  zones: byId(design.supply.zones),
  bareZoneIds: new Set(
    parcel.zones.flatMap((sent) => {
      if (sent.kind === 'same') return before.bareZoneIds.has(sent.id) ? [sent.id] : [];
      return sent.item.network.nodes.length === 0 ? [sent.item.id] : [];
    }),
  ),
});

/** Equal part by part: a bed's record is made anew with each design, what it holds only where it changed. */
function isUnchanged<T extends object>(item: T, last: T | undefined): boolean {
  if (last === undefined) return false;
  const keys = Object.keys(item) as (keyof T)[];
  return keys.length === Object.keys(last).length && keys.every((key) => Object.is(item[key], last[key]));
}

const packed = <T extends { readonly id: string }>(
  items: readonly T[],
  last: ReadonlyMap<string, T>,
): readonly Sent<T>[] =>
  items.map((item) =>
    isUnchanged(item, last.get(item.id)) ? { kind: 'same', id: item.id } : { kind: 'new', item },
  );

const NOTHING_SOLVED = new Float64Array(0);

/** A zone without its network and the heads of every node of it: most of a parcel, and asked for only once a design is finished. */
const bareZone = (zone: Zone): Zone => ({
  ...zone,
  network: { ...zone.network, nodes: [], links: [] },
  solution: {
    ...zone.solution,
    headM: NOTHING_SOLVED,
    outflowM3s: NOTHING_SOLVED,
    flowM3s: NOTHING_SOLVED,
    velocityMs: NOTHING_SOLVED,
    headlossM: NOTHING_SOLVED,
    state: [],
  },
});

/** Zones of a preview cross without their networks; a finished design never names one that did. */
function packedZones(design: Design, last: ParcelMemory): readonly Sent<Zone>[] {
  if (design.quality === 'preview')
    return packed(design.supply.zones, last.zones).map((sent) =>
      sent.kind === 'new' ? { kind: 'new', item: bareZone(sent.item) } : sent,
    );
  const whole = [...last.zones].filter(([id]) => !last.bareZoneIds.has(id));
  return packed(design.supply.zones, new Map(whole));
}

/** Packs a design so that beds and zones whose every part is the very one sent before cross by name only. */
export function packDesign(design: Design, last: ParcelMemory): DesignParcel {
  const { plan: _plan, catalog: _catalog, beds, supply, ...rest } = design;
  const { zones: _zones, ...supplyRest } = supply;
  return {
    beds: packed(beds, last.beds),
    zones: packedZones(design, last),
    rest: { ...rest, supply: supplyRest },
  };
}

function unpacked<T>(items: readonly Sent<T>[], last: ReadonlyMap<string, T>): readonly T[] {
  return items.map((sent) => {
    if (sent.kind === 'new') return sent.item;
    const kept = last.get(sent.id);
    if (kept === undefined) throw new Error(`the worker named ${sent.id}, which never crossed`);
    return kept;
  });
}

/** Rebuilds the design at the window's end. Throws if a parcel names a part that never crossed (a bug). */
export function unpackDesign(parcel: DesignParcel, last: ParcelMemory, plan: Plan, catalog: Catalog): Design {
  return {
    ...parcel.rest,
    plan,
    catalog,
    beds: unpacked(parcel.beds, last.beds),
    supply: { ...parcel.rest.supply, zones: unpacked(parcel.zones, last.zones) },
  };
}
