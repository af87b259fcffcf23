import { z } from 'zod';
import { changeOutline, mirrorArcs, renumberCorners, ringPlace } from './cornerEdits';
import { type PlanDraft, Refusal } from './draft';
import { ITEM_MAPS, type ItemMap, lockedRunSchema, type Plan, planSchema } from './schema';

interface CommandKind<P> {
  readonly params: z.ZodType<P>;
  readonly recipe: (draft: PlanDraft, params: P) => void;
}

const itemMap = z.enum(ITEM_MAPS);
const id = z.string().min(1).max(200);
const point = z.strictObject({ x: z.number(), y: z.number() });
const changes = z.record(z.string().max(100), z.unknown());
const refs = z.array(z.strictObject({ map: itemMap, id })).max(100_000);

const command = <P>(params: z.ZodType<P>, recipe: (draft: PlanDraft, params: P) => void): CommandKind<P> => ({
  params,
  recipe,
});

type AnyMap = Record<string, Record<string, unknown>>;
const mapOf = (draft: PlanDraft, map: ItemMap): AnyMap => draft[map] as unknown as AnyMap;

function itemOf(draft: PlanDraft, map: ItemMap, itemId: string): Record<string, unknown> {
  const item = Object.hasOwn(draft[map], itemId) ? mapOf(draft, map)[itemId] : undefined;
  if (item === undefined) throw new Refusal('plan.no-such-item', itemId);
  return item;
}

/** Applies `move` to every plan point inside an item, whatever its shape. A point is an object with just x and y. */
function movePoints(value: unknown, move: (p: { x: number; y: number }) => { x: number; y: number }): void {
  if (Array.isArray(value)) for (const inner of value) movePoints(inner, move);
  else if (typeof value === 'object' && value !== null) {
    const entry = value as Record<string, unknown>;
    if (typeof entry.x === 'number' && typeof entry.y === 'number')
      Object.assign(entry, move({ x: entry.x, y: entry.y }));
    else for (const inner of Object.values(entry)) movePoints(inner, move);
  }
}

/** Names of the language itself: no file and no patch may carry them, so no item may bear them. */
const RESERVED: ReadonlySet<string> = new Set(['__proto__', 'constructor', 'prototype']);

function put(draft: PlanDraft, map: ItemMap, item: Record<string, unknown>): void {
  if (typeof item.id !== 'string' || item.id === '' || RESERVED.has(item.id))
    throw new Refusal('plan.bad-item', String(item.id));
  mapOf(draft, map)[item.id] = item;
}

/** Dimensions tied to something that goes are untied where they stand no longer; they go with it. */
function removeItems(draft: PlanDraft, items: readonly { map: ItemMap; id: string }[]): void {
  const gone = new Set(items.map((item) => item.id));
  for (const { map, id: itemId } of items) {
    itemOf(draft, map, itemId);
    delete mapOf(draft, map)[itemId];
  }
  for (const dimension of Object.values(draft.dimensions)) {
    const tied = [dimension.from, dimension.to].some((end) => end.kind !== 'free' && gone.has(end.itemId));
    if (tied) delete draft.dimensions[dimension.id];
  }
}

/** A picture lies by its own corner, which is not written as a point. */
function moveOrigin(
  draft: PlanDraft,
  ref: { readonly map: ItemMap; readonly id: string },
  move: (p: { x: number; y: number }) => { x: number; y: number },
): void {
  const underlay = ref.map === 'underlays' ? draft.underlays[ref.id] : undefined;
  if (underlay === undefined) return;
  const to = move({ x: underlay.originX, y: underlay.originY });
  underlay.originX = to.x;
  underlay.originY = to.y;
}

function bedOf(draft: PlanDraft, bedId: string) {
  const bed = Object.hasOwn(draft.beds, bedId) ? draft.beds[bedId] : undefined;
  if (bed === undefined) throw new Refusal('plan.no-such-item', bedId);
  return bed;
}

const routePlace = z.strictObject({ id, runIndex: z.int().min(0), pointIndex: z.int().min(0) });

/** Changes one piece of a bed's own route. The point that closes a loop is its first once more, so it follows the first. */
function changeRoute(
  draft: PlanDraft,
  place: { readonly id: string; readonly runIndex: number; readonly pointIndex: number },
  change: (path: { x: number; y: number }[], leastPoints: number) => void,
): void {
  const run = bedOf(draft, place.id).lockedRoute?.[place.runIndex];
  if (run === undefined) throw new Refusal('plan.no-such-route', place.id);
  const path = run.path as { x: number; y: number }[];
  const [first, last] = [path[0], path.at(-1)];
  const isRepeated = run.closed && path.length > 1 && first?.x === last?.x && first?.y === last?.y;
  if (isRepeated) path.pop();
  if (path[place.pointIndex] === undefined) throw new Refusal('plan.no-such-route', place.id);
  change(path, run.closed ? 3 : 2);
  if (isRepeated && path[0] !== undefined) path.push({ x: path[0].x, y: path[0].y });
}

const sectionChange = <K extends 'project' | 'display' | 'site'>(key: K) =>
  command(z.strictObject({ changes }), (draft, { changes: change }) => {
    Object.assign(draft[key], change);
  });

const KINDS = {
  'put-item': command(z.strictObject({ map: itemMap, item: changes }), (draft, p) =>
    put(draft, p.map, p.item),
  ),
  'change-items': command(z.strictObject({ items: refs, changes }), (draft, p) => {
    for (const { map, id: itemId } of p.items)
      Object.assign(itemOf(draft, map, itemId), p.changes, { id: itemId });
  }),
  /** Changes several items at once, each in its own way. */
  'change-each': command(
    z.strictObject({ each: z.array(z.strictObject({ map: itemMap, id, changes })).max(100_000) }),
    (draft, p) => {
      for (const { map, id: itemId, changes: own } of p.each)
        Object.assign(itemOf(draft, map, itemId), own, { id: itemId });
    },
  ),
  'set-bed': command(z.strictObject({ id, changes }), (draft, p) => {
    Object.assign(itemOf(draft, 'beds', p.id), p.changes, { id: p.id });
  }),
  'remove-items': command(z.strictObject({ items: refs }), (draft, p) => removeItems(draft, p.items)),
  /** Joins, splits and pastes: what goes and what comes, as one edit. */
  'replace-items': command(
    z.strictObject({
      remove: refs,
      put: z.array(z.strictObject({ map: itemMap, item: changes })).max(100_000),
    }),
    (draft, p) => {
      removeItems(draft, p.remove);
      for (const { map, item } of p.put) put(draft, map, item);
    },
  ),
  /** Takes headers as they were found into the plan. */
  'keep-headers': command(z.strictObject({ headers: z.array(changes).max(100_000) }), (draft, p) => {
    for (const header of p.headers) put(draft, 'lockedPipes', header);
  }),
  'move-items': command(z.strictObject({ items: refs, dx: z.number(), dy: z.number() }), (draft, p) => {
    const move = ({ x, y }: { x: number; y: number }) => ({ x: x + p.dx, y: y + p.dy });
    for (const ref of p.items) {
      movePoints(itemOf(draft, ref.map, ref.id), move);
      moveOrigin(draft, ref, move);
    }
  }),
  'turn-items': command(z.strictObject({ items: refs, about: point, angleRad: z.number() }), (draft, p) => {
    const [cos, sin] = [Math.cos(p.angleRad), Math.sin(p.angleRad)];
    const turn = ({ x, y }: { x: number; y: number }) => ({
      x: p.about.x + (x - p.about.x) * cos - (y - p.about.y) * sin,
      y: p.about.y + (x - p.about.x) * sin + (y - p.about.y) * cos,
    });
    for (const ref of p.items) {
      movePoints(itemOf(draft, ref.map, ref.id), turn);
      moveOrigin(draft, ref, turn);
      const underlay = ref.map === 'underlays' ? draft.underlays[ref.id] : undefined;
      if (underlay !== undefined) underlay.turnRad += p.angleRad;
      const bed = ref.map === 'beds' ? draft.beds[ref.id] : undefined;
      if (bed !== undefined && bed.rowDirectionRad !== null) bed.rowDirectionRad += p.angleRad;
    }
  }),
  'mirror-items': command(z.strictObject({ items: refs, from: point, to: point }), (draft, p) => {
    const [ux, uy] = [p.to.x - p.from.x, p.to.y - p.from.y];
    const length2 = ux * ux + uy * uy;
    if (length2 === 0) throw new Refusal('plan.no-mirror-line', '');
    for (const ref of p.items) {
      const item = itemOf(draft, ref.map, ref.id);
      movePoints(item, ({ x, y }) => {
        const along = ((x - p.from.x) * ux + (y - p.from.y) * uy) / length2;
        return { x: 2 * (p.from.x + along * ux) - x, y: 2 * (p.from.y + along * uy) - y };
      });
      mirrorArcs(draft, ref.map, ref.id);
      const bed = ref.map === 'beds' ? draft.beds[ref.id] : undefined;
      if (bed === undefined) continue;
      reverseRings(bed.rings);
      if (bed.rowDirectionRad !== null) bed.rowDirectionRad = 2 * Math.atan2(uy, ux) - bed.rowDirectionRad;
      for (const [ringIndex, ring] of bed.rings.entries())
        renumberCorners(draft, bed.id, ringIndex, (index) => ring.points.length - 1 - index);
    }
  }),
  'move-corner': command(ringPlace.extend({ to: point }), (draft, p) => {
    changeOutline(draft, p, ({ points }) => {
      if (points[p.pointIndex] === undefined) throw new Refusal('plan.no-such-corner', p.id);
      points[p.pointIndex] = p.to;
      return null;
    });
  }),
  /** Puts a corner into the edge that starts at `pointIndex`; both halves keep the edge's class, straight. */
  'insert-corner': command(ringPlace.extend({ at: point }), (draft, p) => {
    changeOutline(draft, p, ({ points, edges }) => {
      const edge = edges[p.pointIndex];
      if (edge === undefined) throw new Refusal('plan.no-such-corner', p.id);
      points.splice(p.pointIndex + 1, 0, p.at);
      edges.splice(p.pointIndex, 1, { ...edge, sagittaM: 0 }, { ...edge, sagittaM: 0 });
      return (index) => (index > p.pointIndex ? index + 1 : index);
    });
  }),
  'remove-corner': command(ringPlace, (draft, p) => {
    changeOutline(draft, p, ({ points, edges, isClosed }) => {
      if (points[p.pointIndex] === undefined) throw new Refusal('plan.no-such-corner', p.id);
      if (isClosed && points.length <= 3) throw new Refusal('plan.too-few-corners', p.id);
      if (points.length <= 2) throw new Refusal('plan.too-few-bends', p.id);
      points.splice(p.pointIndex, 1);
      edges.splice(Math.min(p.pointIndex, edges.length - 1), 1);
      return (index) => (index === p.pointIndex ? null : index > p.pointIndex ? index - 1 : index);
    });
  }),
  'set-edge': command(ringPlace.extend({ changes }), (draft, p) => {
    changeOutline(draft, p, ({ edges }) => {
      const edge = edges[p.pointIndex];
      if (edge === undefined) throw new Refusal('plan.no-such-corner', p.id);
      const isOfBed = (p.map ?? 'beds') === 'beds';
      if (!isOfBed && Object.keys(p.changes).some((key) => key !== 'sagittaM'))
        throw new Refusal('plan.bad-parameters', 'set-edge');
      Object.assign(edge, p.changes);
      return null;
    });
  }),
  /** Lays a route by hand, whole; null gives it back to the program. */
  'set-route': command(
    z.strictObject({ id, runs: z.array(lockedRunSchema).max(500).nullable() }),
    (draft, p) => {
      bedOf(draft, p.id).lockedRoute = p.runs as PlanDraft['beds'][string]['lockedRoute'];
    },
  ),
  /** Keeps routes as they were found, of any number of beds, as one edit. */
  'lock-routes': command(
    z.strictObject({
      routes: z.array(z.strictObject({ id, runs: z.array(lockedRunSchema).max(500) })).max(100_000),
    }),
    (draft, p) => {
      for (const { id: bedId, runs } of p.routes)
        bedOf(draft, bedId).lockedRoute = runs as PlanDraft['beds'][string]['lockedRoute'];
    },
  ),
  'move-route-point': command(routePlace.extend({ to: point }), (draft, p) => {
    changeRoute(draft, p, (path) => {
      path[p.pointIndex] = p.to;
    });
  }),
  /** Puts a point into the piece of tubing that starts at `pointIndex`. */
  'insert-route-point': command(routePlace.extend({ at: point }), (draft, p) => {
    changeRoute(draft, p, (path) => {
      path.splice(p.pointIndex + 1, 0, p.at);
    });
  }),
  'remove-route-point': command(routePlace, (draft, p) => {
    changeRoute(draft, p, (path, least) => {
      if (path.length <= least) throw new Refusal('plan.too-few-route-points', p.id);
      path.splice(p.pointIndex, 1);
    });
  }),
  'set-project': sectionChange('project'),
  'set-display': sectionChange('display'),
  'set-site': sectionChange('site'),
  'set-georeference': command(z.strictObject({ georeference: z.unknown() }), (draft, p) => {
    draft.georeference = p.georeference as Plan['georeference'];
  }),
  'set-setting': command(
    z.strictObject({ key: z.string().min(1).max(100), value: z.number().nullable() }),
    (draft, p) => {
      if (RESERVED.has(p.key)) throw new Refusal('plan.bad-item', p.key);
      if (p.value === null) delete draft.settings[p.key];
      else draft.settings[p.key] = p.value;
    },
  ),
} as const;

/** A mirrored ring runs the other way round: turn it back, so that arcs keep bulging outwards where they did. */
function reverseRings(rings: PlanDraft['beds'][string]['rings']): void {
  for (const ring of rings) {
    ring.points.reverse();
    const edges = ring.edges.slice(0, -1).reverse();
    const closing = ring.edges.at(-1);
    ring.edges = closing === undefined ? edges : [...edges, closing];
  }
}

/** Names of the commands that change a plan; permanent, since journals and scripts hold them. */
export type CommandName = keyof typeof KINDS;
export const COMMAND_NAMES = Object.keys(KINDS) as CommandName[];

/** A command as it is sent, logged and replayed. */
export interface Command {
  readonly name: CommandName;
  readonly params: Readonly<Record<string, unknown>>;
}

/** The recipe of a command with its parameters checked. Fails with a Refusal when the name or the parameters are wrong. */
export function recipeOf(command: Command): (draft: PlanDraft) => void {
  const kind = Object.hasOwn(KINDS, command.name)
    ? (KINDS[command.name] as unknown as CommandKind<unknown>)
    : undefined;
  if (kind === undefined) throw new Refusal('plan.unknown-command', String(command.name));
  const params = kind.params.safeParse(command.params);
  if (!params.success) throw new Refusal('plan.bad-parameters', command.name);
  return (draft) => kind.recipe(draft, params.data);
}

/** The schema of one item, by the map it lives in. */
export function itemSchema(map: ItemMap): z.ZodType {
  return planSchema.shape[map].valueType;
}
