import { boxOf, growBox, type PlanPoint } from '../../core/geometry';
import { type Command, ITEM_MAPS, type ItemMap, type Plan } from '../../core/plan';
import { boxOfPlan } from '../canvas/shape/outline';
import { placesOf } from '../tools/hit';
import { type CornerRef, type ItemRef, useDesk } from './desk';
import { edit } from './edit';
import { showBox } from './view';

/** What a person can choose, in the order they are listed and walked through. */
export const CHOOSABLE: readonly ItemMap[] = ITEM_MAPS.filter(
  (map) => map !== 'readings' && map !== 'foreign',
);

export const everyItem = (plan: Plan): readonly ItemRef[] =>
  CHOOSABLE.flatMap((map) => Object.keys(plan[map]).map((id) => ({ map, id })));

const isSame = (a: ItemRef, b: ItemRef): boolean => a.map === b.map && a.id === b.id;

export function choose(items: readonly ItemRef[]): void {
  useDesk.setState({ selection: items, corner: null });
}

/** Adds an item to what is chosen, or takes it out. */
export function chooseAlso(item: ItemRef): void {
  const { selection } = useDesk.getState();
  const isChosen = selection.some((one) => isSame(one, item));
  choose(isChosen ? selection.filter((one) => !isSame(one, item)) : [...selection, item]);
}

export const chooseCorner = (corner: CornerRef | null): void => useDesk.setState({ corner });

/** Chooses the item before or after the one that is chosen. */
export function chooseNeighbour(way: 1 | -1): void {
  const { history, selection } = useDesk.getState();
  const all = everyItem(history.plan);
  if (all.length === 0) return;
  const [first] = selection;
  const at = first ? all.findIndex((one) => isSame(one, first)) : -1;
  const next = all[(at + way + all.length) % all.length];
  if (next) choose([next]);
}

/** Walks through the corners of the chosen bed. */
export function chooseNextCorner(way: 1 | -1): void {
  const { history, selection, corner } = useDesk.getState();
  const [first] = selection;
  const bed = first?.map === 'beds' ? history.plan.beds[first.id] : undefined;
  if (!bed) return;
  const all = bed.rings.flatMap((ring, ringIndex) =>
    ring.points.map((_point, pointIndex) => ({
      bedId: bed.id,
      ringIndex,
      pointIndex,
      part: 'corner' as const,
    })),
  );
  const at = all.findIndex(
    (one) => corner && one.ringIndex === corner.ringIndex && one.pointIndex === corner.pointIndex,
  );
  const start = at < 0 && way < 0 ? 0 : at;
  chooseCorner(all[(start + way + all.length) % all.length] ?? null);
}

/** Place of the chosen corner. */
export function cornerPlace(plan: Plan, corner: CornerRef): PlanPoint | null {
  return plan.beds[corner.bedId]?.rings[corner.ringIndex]?.points[corner.pointIndex] ?? null;
}

/** Moves what is chosen, or the one corner that is. */
export function nudge(dx: number, dy: number): void {
  const { history, selection, corner } = useDesk.getState();
  const at = corner?.part === 'corner' ? cornerPlace(history.plan, corner) : null;
  if (corner && at) edit(moveCorner(corner, { x: at.x + dx, y: at.y + dy }));
  else if (selection.length > 0) edit({ name: 'move-items', params: { items: selection, dx, dy } });
}

export const moveCorner = (corner: CornerRef, to: PlanPoint): Command => ({
  name: 'move-corner',
  params: { id: corner.bedId, ringIndex: corner.ringIndex, pointIndex: corner.pointIndex, to },
});

/** Takes away the chosen corner, else everything that is chosen. */
export function removeChosen(): void {
  const { selection, corner } = useDesk.getState();
  if (corner?.part === 'corner') {
    const { bedId: id, ringIndex, pointIndex } = corner;
    if (edit({ name: 'remove-corner', params: { id, ringIndex, pointIndex } })) chooseCorner(null);
    return;
  }
  if (selection.length > 0 && edit({ name: 'remove-items', params: { items: selection } })) choose([]);
}

/** Shows the whole plan, or what is chosen where something is. */
export function showChosen(): void {
  const { history, selection } = useDesk.getState();
  const box = boxOf(selection.flatMap((ref) => placesOf(history.plan, ref)));
  if (box) showBox(growBox(box, 0.5));
}
export function showWhole(): void {
  const box = boxOfPlan(useDesk.getState().history.plan);
  if (box) showBox(box);
  else showBox({ minX: -1, minY: -1, maxX: 15, maxY: 10 });
}
