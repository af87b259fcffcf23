import { type HistoryEntry, type ItemMap, itemName } from '../../core/plan';
import { editNames } from '../../core/words';
import type { ItemRef } from './desk';

/** What the parameters of a command may name. */
interface Named {
  readonly map?: ItemMap;
  readonly item?: { readonly id: string };
  readonly items?: readonly ItemRef[];
  readonly id?: string;
}

/** What an edit was done to: the thing's name, how many things, or nothing where it was the plan as a whole. */
function objectOf({ command, before, after }: HistoryEntry): string {
  const { map, item, items, id } = command.params as Named;
  const nameOf = (ref: ItemRef): string =>
    itemName(Object.hasOwn(after[ref.map], ref.id) ? after : before, ref.map, ref.id);
  if (map && item) return nameOf({ map, id: item.id });
  const [first, ...more] = items ?? [];
  if (first) return more.length === 0 ? nameOf(first) : `${more.length + 1} things`;
  return id !== undefined && Object.hasOwn(before.beds, id) ? nameOf({ map: 'beds', id }) : '';
}

/** An edit in a few words: what was done, and to what. */
export function sayDone(entry: HistoryEntry): string {
  const name = editNames[entry.command.name] ?? entry.command.name;
  const object = objectOf(entry);
  return object === '' ? name : `${name}: ${object}`;
}
