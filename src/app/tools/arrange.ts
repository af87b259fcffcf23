import { distanceM, headingRad, type PlanPoint } from '../../core/geometry';
import type { Command, Dimension, ItemMap, Plan } from '../../core/plan';
import type { ToolContext } from './tool';

interface Copied {
  readonly id: string;
}

/** Moves a copy of any item's points; an object with just x and y is a point. */
function shifted(value: unknown, dx: number, dy: number): unknown {
  if (Array.isArray(value)) return value.map((one) => shifted(one, dx, dy));
  if (typeof value !== 'object' || value === null) return value;
  const { x, y } = value as { x?: unknown; y?: unknown };
  if (typeof x === 'number' && typeof y === 'number') return { x: x + dx, y: y + dy };
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, shifted(inner, dx, dy)]));
}

export const moveCommand = (from: PlanPoint, to: PlanPoint, context: ToolContext): Command | null =>
  context.selection.length === 0
    ? null
    : { name: 'move-items', params: { items: context.selection, dx: to.x - from.x, dy: to.y - from.y } };

/** Copies what is chosen; the copies get ids of their own. */
export function copyCommand(from: PlanPoint, to: PlanPoint, context: ToolContext): Command | null {
  const put = context.selection.flatMap(({ map, id }) => {
    const item = context.plan[map][id] as Copied | undefined;
    if (!item) return [];
    const copy = shifted(item, to.x - from.x, to.y - from.y) as Copied;
    return [{ map, item: { ...copy, id: context.newId(id.replace(/-\d+$/, '')) } }];
  });
  return put.length === 0 ? null : { name: 'replace-items', params: { remove: [], put } };
}

/** Turns what is chosen about the first place until east points to the second. */
export const turnCommand = (about: PlanPoint, to: PlanPoint, context: ToolContext): Command | null =>
  context.selection.length === 0
    ? null
    : { name: 'turn-items', params: { items: context.selection, about, angleRad: headingRad(about, to) } };

export const mirrorCommand = (from: PlanPoint, to: PlanPoint, context: ToolContext): Command | null =>
  context.selection.length === 0 || distanceM(from, to) === 0
    ? null
    : { name: 'mirror-items', params: { items: context.selection, from, to } };

/** An end this near a corner or a middle was caught on it, metres. */
const TIES_M = 0.01;

/** What an end was caught on: a corner of a bed or of a building, or a thing with a place, so that a dimension stays with what it measures. */
function anchorAt(plan: Plan, at: PlanPoint): Dimension['from'] {
  const isHere = (point: PlanPoint): boolean => distanceM(point, at) <= TIES_M;
  const rings = [
    ...Object.values(plan.beds).map(({ id, rings }) => ({ id, rings: rings.map((ring) => ring.points) })),
    ...Object.values(plan.structures).map(({ id, shape }) => ({
      id,
      rings: shape.kind === 'area' ? shape.rings : [],
    })),
  ];
  for (const one of rings) {
    for (const [ringIndex, ring] of one.rings.entries()) {
      const pointIndex = ring.findIndex(isHere);
      if (pointIndex >= 0) return { kind: 'corner', itemId: one.id, ringIndex, pointIndex };
    }
  }
  const placed = [plan.trees, plan.sources, plan.valves, plan.controllers, plan.plants].flatMap((map) =>
    Object.values(map).map(({ id, at: place }) => ({ id, place })),
  );
  const item = placed.find(({ place }) => isHere(place));
  if (item) return { kind: 'item', itemId: item.id };
  return { kind: 'free', at };
}

export function dimensionCommand(from: PlanPoint, to: PlanPoint, context: ToolContext): Command | null {
  if (distanceM(from, to) === 0) return null;
  const { plan } = context;
  const item = {
    id: context.newId('dimension'),
    from: anchorAt(plan, from),
    to: anchorAt(plan, to),
    asideM: 0.6,
  };
  return { name: 'put-item', params: { map: 'dimensions', item } };
}

/** The next id of a kind that nothing on the plan has: "bed-3". */
export function freeId(
  plan: Plan,
  maps: readonly ItemMap[],
  kind: string,
  taken: ReadonlySet<string>,
): string {
  for (let number = 1; ; number++) {
    const id = `${kind}-${number}`;
    if (!taken.has(id) && !maps.some((map) => Object.hasOwn(plan[map], id))) return id;
  }
}
