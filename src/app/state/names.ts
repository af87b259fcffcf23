import { useMemo } from 'react';
import type { Design } from '../../core/design';
import { ITEM_MAPS, type Plan } from '../../core/plan';
import { ITEM_NAMES, STRUCTURE_NAMES } from '../wording';
import { type ItemRef, useDesk } from './desk';

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** What a person calls an item: its name, else its mark, else its kind and its number among its kind. */
export function nameOf(plan: Plan, design: Design | null, { map, id }: ItemRef): string {
  const item = plan[map][id];
  if (item && 'name' in item && item.name !== '') return item.name;
  if (map === 'beds') {
    const mark = design?.beds.find((bed) => bed.sourceBedId === id)?.mark;
    if (mark) return `Bed ${mark}`;
  }
  const structure = map === 'structures' ? plan.structures[id] : undefined;
  const kind = structure ? STRUCTURE_NAMES[structure.kind] : ITEM_NAMES[map];
  const number = Object.keys(plan[map]).indexOf(id) + 1;
  return `${capital(kind)} ${number}`;
}

/** Names of everything on the plan, by id, for sentences. */
export function useNames(): Readonly<Record<string, string>> {
  const plan = useDesk((state) => state.history.plan);
  const design = useDesk((state) => state.design);
  return useMemo(() => {
    const names: Record<string, string> = {};
    for (const map of ITEM_MAPS)
      for (const id of Object.keys(plan[map])) names[id] = nameOf(plan, design, { map, id });
    for (const bed of design?.beds ?? []) names[bed.id] ??= `Bed ${bed.mark}`;
    for (const zone of design?.supply.zones ?? []) names[zone.id] ??= `Zone ${zone.number}`;
    return names;
  }, [plan, design]);
}
