import type { Catalog } from '../core/catalog';
import type { Design, DesignedBed } from '../core/design';
import type { Plan } from '../core/plan';
import type { Zone } from '../core/supply';
import type { DesignParcel, Sent } from './protocol';

/** What both ends remember of the last parcel. */
export interface ParcelMemory {
  readonly beds: ReadonlyMap<string, DesignedBed>;
  readonly zones: ReadonlyMap<string, Zone>;
}

export const NOTHING_SENT: ParcelMemory = { beds: new Map(), zones: new Map() };

const byId = <T extends { readonly id: string }>(items: readonly T[]): ReadonlyMap<string, T> =>
  new Map(items.map((item) => [item.id, item]));

/** What either end remembers once a design has crossed. */
export const memoryOf = (design: Design): ParcelMemory => ({
  beds: byId(design.beds),
  zones: byId(design.supply.zones),
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

/** Packs a design so that beds and zones whose every part is the very one sent before cross by name only. */
export function packDesign(design: Design, last: ParcelMemory): DesignParcel {
  const { plan: _plan, catalog: _catalog, beds, supply, ...rest } = design;
  const { zones, ...supplyRest } = supply;
  return {
    beds: packed(beds, last.beds),
    zones: packed(zones, last.zones),
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
