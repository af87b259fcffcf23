import { useMemo } from 'react';
import type { Design } from '../../core/design';
import { ITEM_MAPS, itemName, type Plan } from '../../core/plan';
import { type ItemRef, useDesk } from './desk';

/** What a person calls an item: its name, else its mark, else its kind and its number among its kind. */
export const nameOf = (plan: Plan, { map, id }: ItemRef): string => itemName(plan, map, id);

/** Names of everything on the plan and of its zones, by id. */
export function namesOf(plan: Plan, design: Design | null): Readonly<Record<string, string>> {
  const names: Record<string, string> = {};
  for (const map of ITEM_MAPS) for (const id of Object.keys(plan[map])) names[id] = itemName(plan, map, id);
  for (const bed of design?.beds ?? []) names[bed.id] ??= bed.name;
  for (const zone of design?.supply.zones ?? []) names[zone.id] ??= `Zone ${zone.number}`;
  return names;
}

/** The same for the plan on the desk, for sentences. */
export function useNames(): Readonly<Record<string, string>> {
  const plan = useDesk((state) => state.history.plan);
  const design = useDesk((state) => state.design);
  return useMemo(() => namesOf(plan, design), [plan, design]);
}
