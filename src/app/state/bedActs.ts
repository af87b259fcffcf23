import type { DesignedBed } from '../../core/design';
import { type Bed, ITEM_MAPS, joinedRings } from '../../core/plan';
import { freeId } from '../tools/arrange';
import { isTubingStale, say, useDesk } from './desk';
import { edit } from './edit';
import { keepOfDesign } from './readyDesign';
import { choose } from './selection';

function chosenBeds(): readonly Bed[] {
  const { history, selection } = useDesk.getState();
  return selection.flatMap((item) => (item.map === 'beds' ? (history.plan.beds[item.id] ?? []) : []));
}

/** One bed out of the chosen ones that touch; the first keeps its name and its choices. */
export function joinBeds(): void {
  const beds = chosenBeds();
  const [first] = beds;
  if (!first || beds.length < 2) {
    say('Two beds or more are joined.', 'note', 'Choose them with Shift pressed, or by a box.');
    return;
  }
  const rings = joinedRings(beds);
  if (rings === null) {
    say('The chosen beds do not touch.', 'warn', 'Move them together, then join them.');
    return;
  }
  const id = freeId(useDesk.getState().history.plan, ITEM_MAPS, 'bed', new Set());
  const joined: Bed = { ...first, id, rings, lockedRoute: null };
  const remove = beds.map((bed) => ({ map: 'beds', id: bed.id }));
  if (edit({ name: 'replace-items', params: { remove, put: [{ map: 'beds', item: joined }] } })) {
    choose([{ map: 'beds', id: joined.id }]);
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

/** Tubing of every bed: as kept by hand where it is, else as it was laid for the plan on the desk; what lies there of an older plan is left out. */
export function laidRoutes(): readonly { readonly bedId: string; readonly runs: LockedRun[] }[] {
  const state = useDesk.getState();
  const laid = isTubingStale(state) ? [] : (state.design?.beds ?? []);
  return Object.values(state.history.plan.beds).map((bed) => ({
    bedId: bed.id,
    runs: bed.lockedRoute ?? asLocked(laid.filter((one) => one.sourceBedId === bed.id)),
  }));
}

/** Keeps the routes of the chosen beds as they lie; they are still checked with every design. */
export function lockRoute(): Promise<void> {
  const chosen = chosenBeds().map(({ id }) => id);
  return keepOfDesign((design) => {
    const routes = chosen.flatMap((id) => {
      const routed = design.beds.filter((bed) => bed.sourceBedId === id);
      return routed.length === 0 ? [] : [{ id, runs: asLocked(routed) }];
    });
    if (routes.length === 0) say('No routed bed is chosen.', 'note', 'Choose a bed that has tubing.');
    else edit({ name: 'lock-routes', params: { routes } });
  });
}

export function freeRoute(): void {
  const items = chosenBeds()
    .filter((bed) => bed.lockedRoute !== null)
    .map((bed) => ({ map: 'beds', id: bed.id }));
  if (items.length > 0) edit({ name: 'change-items', params: { items, changes: { lockedRoute: null } } });
  else say('No chosen bed has a locked route.', 'note', 'Routes are found by the program already.');
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
