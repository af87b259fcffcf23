import { boxOf, growBox, type PlanPoint } from '../../core/geometry';
import {
  CORNERED_MAPS,
  type Command,
  type CorneredMap,
  ITEM_MAPS,
  type ItemMap,
  outlinesOf,
  type Plan,
} from '../../core/plan';
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

/** The one thing that is chosen, where it is drawn by corners. */
export function chosenByCorners(
  selection: readonly ItemRef[],
): { readonly map: CorneredMap; readonly id: string } | null {
  const [only] = selection;
  const map = CORNERED_MAPS.find((one) => one === only?.map);
  return map !== undefined && only !== undefined && selection.length === 1 ? { map, id: only.id } : null;
}

/** Walks through the corners of what is chosen. */
export function chooseNextCorner(way: 1 | -1): void {
  const { history, selection, corner } = useDesk.getState();
  const only = chosenByCorners(selection);
  if (!only) return;
  const all = outlinesOf(history.plan, only.map, only.id).flatMap((outline, ringIndex) =>
    outline.points.map((_point, pointIndex) => ({ ...only, ringIndex, pointIndex, part: 'corner' as const })),
  );
  const at = all.findIndex(
    (one) => corner && one.ringIndex === corner.ringIndex && one.pointIndex === corner.pointIndex,
  );
  const start = at < 0 && way < 0 ? 0 : at;
  chooseCorner(all[(start + way + all.length) % all.length] ?? null);
}

/** Place of the chosen corner. */
export function cornerPlace(plan: Plan, corner: CornerRef): PlanPoint | null {
  return outlinesOf(plan, corner.map, corner.id)[corner.ringIndex]?.points[corner.pointIndex] ?? null;
}

/** Moves what is chosen, or the one corner that is. */
export function nudge(dx: number, dy: number): void {
  const { history, selection, corner } = useDesk.getState();
  const at = corner?.part === 'corner' ? cornerPlace(history.plan, corner) : null;
  if (corner && at) edit(moveCorner(corner, { x: at.x + dx, y: at.y + dy }));
  else if (selection.length > 0) edit({ name: 'move-items', params: { items: selection, dx, dy } });
}

/** A corner or an edge as a command names it. */
export const placeOf = ({ map, id, ringIndex, pointIndex }: CornerRef) => ({
  map,
  id,
  ringIndex,
  pointIndex,
});

export const moveCorner = (corner: CornerRef, to: PlanPoint): Command => ({
  name: 'move-corner',
  params: { ...placeOf(corner), to },
});

/** Takes away the chosen corner, else everything that is chosen. */
export function removeChosen(): void {
  const { selection, corner } = useDesk.getState();
  if (corner?.part === 'corner') {
    if (edit({ name: 'remove-corner', params: placeOf(corner) })) chooseCorner(null);
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
