import { type HistoryEntry, type ItemMap, itemName } from '../../core/plan';
import { editNames, exchangeNames } from '../../core/words';
import type { ItemRef } from './desk';

/** What the parameters of a command may name. */
interface Named {
  readonly map?: ItemMap;
  readonly item?: { readonly id: string };
  readonly items?: readonly ItemRef[];
  readonly each?: readonly ItemRef[];
  readonly id?: string;
  readonly headers?: readonly { readonly id: string }[];
  /** Routes kept, each of its bed. */
  readonly routes?: readonly { readonly id: string }[];
  /** Of an exchange: what goes, and what comes. */
  readonly remove?: readonly ItemRef[];
  readonly put?: readonly { readonly map: ItemMap; readonly item: { readonly id: string } }[];
}

/** What an edit was done to: the thing's name, how many things, or nothing where it was the plan as a whole. */
function objectOf({ command, before, after }: HistoryEntry): string {
  const { map, item, items, each, id, put, headers, routes } = command.params as Named;
  const nameOf = (ref: ItemRef): string =>
    itemName(Object.hasOwn(after[ref.map], ref.id) ? after : before, ref.map, ref.id);
  if (map && item) return nameOf({ map, id: item.id });
  const things =
    items ??
    each ??
    put?.map((one) => ({ map: one.map, id: one.item.id })) ??
    headers?.map((header): ItemRef => ({ map: 'lockedPipes', id: header.id })) ??
    routes?.map((route): ItemRef => ({ map: 'beds', id: route.id })) ??
    [];
  const [first, ...more] = things;
  if (first) return more.length === 0 ? nameOf(first) : `${more.length + 1} things`;
  const within = map ?? 'beds';
  return id !== undefined && Object.hasOwn(before[within], id) ? nameOf({ map: within, id }) : '';
}

/** What was done, in a word or two. */
export function nameOfEdit({ command }: HistoryEntry): string {
  const { remove = [], put = [] } = command.params as Named;
  if (command.name === 'replace-items') {
    if (remove.length === 0) return exchangeNames.drawn;
    if (put.length === 1 && remove.length > 1) return exchangeNames.joined;
    if (put.length > 1 && remove.length === 1) return exchangeNames.split;
  }
  return editNames[command.name] ?? command.name;
}

/** An edit in a few words: what was done, and to what. */
export function sayDone(entry: HistoryEntry): string {
  const name = nameOfEdit(entry);
  const object = objectOf(entry);
  return object === '' ? name : `${name}: ${object}`;
}
