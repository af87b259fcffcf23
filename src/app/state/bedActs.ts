import type { DesignedBed } from '../../core/design';
import { boxOf, intersect, nestRings, type PlanPoint, rectangleRing, unite } from '../../core/geometry';
import { type Bed, ITEM_MAPS, plainBed } from '../../core/plan';
import { bedOutline } from '../canvas/shape/outline';
import { freeId } from '../tools/arrange';
import { say, useDesk } from './desk';
import { edit } from './edit';
import { choose } from './selection';

function chosenBeds(): readonly Bed[] {
  const { history, selection } = useDesk.getState();
  return selection.flatMap((item) => (item.map === 'beds' ? (history.plan.beds[item.id] ?? []) : []));
}

const ringOf = (points: readonly PlanPoint[]): Bed['rings'][number] => ({
  points: points.map(({ x, y }) => ({ x, y })),
  edges: points.map(() => ({ class: null, offsetM: null, sagittaM: 0 })),
});

const newBedId = (taken: ReadonlySet<string> = new Set()): string =>
  freeId(useDesk.getState().history.plan, ITEM_MAPS, 'bed', taken);

/** One bed out of the chosen ones that touch; the first keeps its name and its choices. */
export function joinBeds(): void {
  const beds = chosenBeds();
  const [first] = beds;
  if (!first || beds.length < 2) {
    say('Two beds or more are joined.', 'note', 'Choose them with Shift pressed, or draw a box round them.');
    return;
  }
  const parts = unite(...beds.map((bed) => nestRings(bedOutline(bed).rings, 'even-odd')));
  const [whole] = parts;
  if (!whole || parts.length > 1) {
    say('The chosen beds do not touch.', 'warn', 'Move them together, then join them.');
    return;
  }
  const joined: Bed = { ...first, id: newBedId(), rings: [whole.outer, ...whole.holes].map(ringOf) };
  const remove = beds.map((bed) => ({ map: 'beds', id: bed.id }));
  if (edit({ name: 'replace-items', params: { remove, put: [{ map: 'beds', item: joined }] } })) {
    choose([{ map: 'beds', id: joined.id }]);
  }
}

/** Two beds out of one, across the middle of its longer side. */
export function splitBed(): void {
  const [bed] = chosenBeds();
  if (!bed) {
    say('No bed is chosen.', 'note', 'Choose a bed first.');
    return;
  }
  const outline = bedOutline(bed);
  const box = boxOf(outline.rings.flat());
  if (!box) return;
  const isWide = box.maxX - box.minX >= box.maxY - box.minY;
  const middle = isWide ? (box.minX + box.maxX) / 2 : (box.minY + box.maxY) / 2;
  const half = isWide ? { ...box, maxX: middle } : { ...box, maxY: middle };
  const otherHalf = isWide ? { ...box, minX: middle } : { ...box, minY: middle };
  const ground = nestRings(outline.rings, 'even-odd');
  const taken = new Set<string>();
  const put = [half, otherHalf].flatMap((side) => {
    const ring = rectangleRing({ x: side.minX, y: side.minY }, { x: side.maxX, y: side.maxY });
    return intersect(ground, [{ outer: ring, holes: [] }]).map((part) => {
      const id = newBedId(taken);
      taken.add(id);
      const rings = [part.outer, ...part.holes].map(ringOf);
      const { name, ...choices } = bed;
      return {
        map: 'beds',
        item: {
          ...plainBed(id, rings),
          ...choices,
          id,
          rings,
          name: name === '' ? '' : `${name} ${taken.size}`,
          stubUp: null,
          lockedRoute: null,
        },
      };
    });
  });
  const remove = [{ map: 'beds', id: bed.id }];
  if (edit({ name: 'replace-items', params: { remove, put } })) {
    choose([...taken].map((id) => ({ map: 'beds', id })));
  }
}

type LockedRun = NonNullable<Bed['lockedRoute']>[number];

/** Routed tubing of a bed as a plan keeps it; plain leads are found again by the design. */
const asLocked = (parts: readonly DesignedBed[]): LockedRun[] =>
  parts.flatMap((part) =>
    part.layout.runs
      .filter((run) => run.role !== 'lead')
      .map((run) => ({
        role: run.role,
        ...(run.use ? { use: run.use } : {}),
        closed: run.closed,
        path: run.path.map(({ x, y }) => ({ x, y })),
      })),
  );

/** Tubing of every bed: as kept by hand where it is, else as the last design laid it. */
export function laidRoutes(): readonly { readonly bedId: string; readonly runs: LockedRun[] }[] {
  const { design, history } = useDesk.getState();
  return Object.values(history.plan.beds).map((bed) => ({
    bedId: bed.id,
    runs: bed.lockedRoute ?? asLocked(design?.beds.filter((one) => one.sourceBedId === bed.id) ?? []),
  }));
}

/** Keeps the route as it lies now; it is still checked with every design. */
export function lockRoute(): void {
  const { design } = useDesk.getState();
  const [bed] = chosenBeds();
  const routed = design?.beds.filter((one) => one.sourceBedId === bed?.id) ?? [];
  if (!bed || routed.length === 0) {
    say('No routed bed is chosen.', 'note', 'Choose a bed that has tubing.');
    return;
  }
  edit({ name: 'set-bed', params: { id: bed.id, changes: { lockedRoute: asLocked(routed) } } });
}

export function freeRoute(): void {
  for (const bed of chosenBeds()) {
    if (bed.lockedRoute) edit({ name: 'set-bed', params: { id: bed.id, changes: { lockedRoute: null } } });
  }
}

/** The chosen beds share one valve, whatever the program would choose. */
export function groupBeds(): void {
  const beds = chosenBeds();
  const [first] = beds;
  if (!first) {
    say('No bed is chosen.', 'note', 'Choose the beds that shall run together.');
    return;
  }
  const items = beds.map((bed) => ({ map: 'beds', id: bed.id }));
  edit({ name: 'change-items', params: { items, changes: { zoneKey: `by hand ${first.id}` } } });
}

export function ungroupBeds(): void {
  const chosen = chosenBeds();
  const { plan } = useDesk.getState().history;
  const items = (chosen.length > 0 ? chosen : Object.values(plan.beds))
    .filter((bed) => bed.zoneKey !== null)
    .map((bed) => ({ map: 'beds', id: bed.id }));
  if (items.length > 0) edit({ name: 'change-items', params: { items, changes: { zoneKey: null } } });
}
