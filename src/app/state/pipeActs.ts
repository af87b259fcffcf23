import { ITEM_MAPS } from '../../core/plan';
import { foundHeaders, type Zone } from '../../core/supply';
import { freeId } from '../tools/arrange';
import { type ItemRef, say, useDesk } from './desk';
import { edit } from './edit';
import { keepOfDesign } from './readyDesign';
import { choose } from './selection';

/** Zones of what is chosen: of its beds, or of the headers led by hand; with nothing chosen the only zone there is. */
function zonesOf(selection: readonly ItemRef[]): readonly Zone[] {
  const { design } = useDesk.getState();
  const zones = design?.supply.zones ?? [];
  if (selection.length === 0 && zones.length === 1) return zones;
  const ids = new Set(selection.map(({ id }) => id));
  const ofBeds = new Set(design?.beds.filter((bed) => ids.has(bed.sourceBedId)).map((bed) => bed.zoneId));
  return zones.filter((zone) => ofBeds.has(zone.id) || zone.drawnPipeIds.some((id) => ids.has(id)));
}

const sayNoZone = (): void =>
  say('No zone is chosen.', 'note', 'Choose a bed of the zone, then take up the act again.');

/** Takes the headers that were found for the chosen zones into the plan, to be changed by their corners; they are checked all the same. */
export function keepHeaders(): Promise<void> {
  const { selection } = useDesk.getState();
  return keepOfDesign(() => keepFound(zonesOf(selection)));
}

function keepFound(zones: readonly Zone[]): void {
  if (zones.length === 0) {
    sayNoZone();
    return;
  }
  const { plan } = useDesk.getState().history;
  const taken = new Set<string>();
  const pipes = zones.flatMap((zone) =>
    foundHeaders(zone).map((path) => {
      const id = freeId(plan, ITEM_MAPS, 'header', taken);
      taken.add(id);
      return {
        id,
        role: 'header',
        zoneKey: zone.zoneKey,
        path: path.map(({ x, y }) => ({ x, y })),
        pipeId: null,
      };
    }),
  );
  if (pipes.length === 0) {
    say('Every header here is led by hand already.', 'note', 'Press one on the sketch to move its bends.');
    return;
  }
  if (edit({ name: 'keep-headers', params: { headers: pipes } }))
    choose(pipes.map(({ id }) => ({ map: 'lockedPipes', id })));
}

/** Gives the chosen pipes that were led by hand, else every header of the chosen zones, back to the program. */
export function freeHeaders(): void {
  const { selection } = useDesk.getState();
  const chosen = selection.filter(({ map }) => map === 'lockedPipes');
  const zones = zonesOf(selection);
  const items =
    chosen.length > 0
      ? chosen
      : zones.flatMap((zone) => zone.drawnPipeIds.map((id) => ({ map: 'lockedPipes' as const, id })));
  if (items.length > 0) {
    if (edit({ name: 'remove-items', params: { items } }))
      choose(selection.filter(({ map }) => map !== 'lockedPipes'));
  } else if (zones.length === 0) sayNoZone();
  else say('No header here is led by hand.', 'note', 'They are found by the program already.');
}
