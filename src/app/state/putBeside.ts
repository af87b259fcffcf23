import { ITEM_MAPS, type Plan } from '../../core/plan';
import { freeId } from '../tools/arrange';
import { useDesk } from './desk';
import { edit } from './edit';
import { choose } from './selection';

const BROUGHT = ITEM_MAPS.filter((map) => map !== 'readings' && map !== 'dimensions');

/** Adds everything drawn in another plan, as one edit; an id that is already here gives way to a free one. */
export function putBeside(other: Plan): void {
  const { plan } = useDesk.getState().history;
  const taken = new Set<string>();
  const put = BROUGHT.flatMap((map) =>
    Object.values(other[map]).map((item) => {
      const isTaken = ITEM_MAPS.some((one) => Object.hasOwn(plan[one], item.id)) || taken.has(item.id);
      const id = isTaken ? freeId(plan, ITEM_MAPS, item.id, taken) : item.id;
      taken.add(id);
      return { map, item: { ...item, id } };
    }),
  );
  if (edit({ name: 'replace-items', params: { remove: [], put } })) {
    choose(put.map(({ map, item }) => ({ map, id: item.id })));
  }
}
