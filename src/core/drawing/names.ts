import type { Design } from '../design';
import { distanceM, type PlanPoint } from '../geometry';
import type { Device } from '../supply';
import { drawingWords as words } from '../words';
import { devicesOf } from './devices';
import { markedRuns } from './figures';

/** What the sheet calls every item of a plan, by its id. An id itself is never printed. */
export type PrintedNames = Readonly<Record<string, string>>;

const runNames = (design: Design): readonly (readonly [string, string])[] =>
  design.beds.flatMap((bed) => [
    ...bed.layout.runs.map((run) => [run.id, words.plainOf(bed.mark)] as const),
    ...markedRuns(bed).map(({ run, mark }) => [run.id, words.runOf(mark)] as const),
  ]);

/** The name of a flush valve: the mark of the run that it ends. */
export function flushMark(design: Design, runId: string): string {
  for (const bed of design.beds) {
    const marked = markedRuns(bed).find(({ run }) => run.id === runId);
    if (marked) return marked.mark;
  }
  return '';
}

const SAME_PLACE_M = 0.01;

const isAt = (a: PlanPoint, b: PlanPoint): boolean => distanceM(a, b) < SAME_PLACE_M;

/** Tells the mark of the run that a flush valve ends: the layout's own valve of that place, else the one the zone flushes there. */
function flushMarks(design: Design): (valve: Device) => string {
  const joins = design.beds
    .flatMap((bed) => bed.layout.joins)
    .filter((join) => join.fitting === 'flush-valve');
  const marks = new Map(
    design.beds.flatMap((bed) => markedRuns(bed).map(({ run, mark }) => [run.id, mark] as const)),
  );
  return (valve) => {
    const join = joins.find((each) => isAt(each, valve.at));
    const zone = design.supply.zones.find((each) => each.id === valve.zoneId);
    const runId = join?.runIds[0] ?? zone?.flush.find((flush) => isAt(flush.at, valve.at))?.runId;
    return marks.get(runId ?? '') ?? '';
  };
}

/** Which of several a drain of a zone is, from 1 on; null where it is the only one. */
function orderInZone(drains: Design['supply']['zones'][number]['drains'], id: string): number | null {
  return drains.length < 2 ? null : drains.findIndex(({ deviceId }) => deviceId === id) + 1;
}

/** Devices by what stands beside them on the plan: flush valves by their run, air reliefs by number where there are several. */
export function deviceNames(design: Design): PrintedNames {
  const devices = devicesOf(design.supply);
  const zones = new Map(design.supply.zones.map((zone) => [zone.id, zone]));
  const reliefs = devices.filter((device) => device.kind === 'air-relief');
  const flushMarkOf = flushMarks(design);
  return Object.fromEntries(
    devices.map((device) => {
      const zone = device.zoneId === null ? undefined : zones.get(device.zoneId);
      if (device.kind === 'valve-assembly' && zone) return [device.id, words.valveOf(zone.number)];
      if (device.kind === 'drain-point' && zone)
        return [device.id, words.drainOf(zone.number, orderInZone(zone.drains, device.id))];
      if (device.kind === 'air-relief' && reliefs.length > 1)
        return [device.id, words.airReliefOf(reliefs.indexOf(device) + 1)];
      const mark = device.kind === 'flush-valve' ? flushMarkOf(device) : '';
      return [device.id, mark === '' ? words.devices[device.kind] : words.flushValveOf(mark)];
    }),
  );
}

/** More flush valves than this are lettered with their run's mark alone: the legend says once what the symbol and its mark are. */
const MOST_FLUSH_IN_FULL = 8;

/** True where a plan has so many flush valves that each is lettered with its run's mark alone. */
export const marksFlushShortly = (design: Design): boolean =>
  devicesOf(design.supply).filter((device) => device.kind === 'flush-valve').length > MOST_FLUSH_IN_FULL;

/** What is lettered beside each device on the plan: its name, or the run's mark alone of one flush valve among many. */
export function deviceLabels(design: Design): PrintedNames {
  const names = deviceNames(design);
  if (!marksFlushShortly(design)) return names;
  const flushMarkOf = flushMarks(design);
  const marks = devicesOf(design.supply).flatMap((device): readonly (readonly [string, string])[] => {
    const mark = device.kind === 'flush-valve' ? flushMarkOf(device) : '';
    return mark === '' ? [] : [[device.id, mark]];
  });
  return { ...names, ...Object.fromEntries(marks) };
}

/** Every name a sheet prints. */
export function printedNames(design: Design): PrintedNames {
  const { plan, catalog, supply } = design;
  const named = (
    map: Readonly<Record<string, { readonly id: string; readonly name: string }>>,
    fallback: string,
  ): readonly (readonly [string, string])[] =>
    Object.values(map).map((item) => [item.id, item.name || fallback] as const);
  return Object.fromEntries([
    ...catalog.driplines.map((part) => [part.id, part.name] as const),
    ...catalog.fittings.map((part) => [part.id, part.name] as const),
    ...Object.values(plan.structures).map((s) => [s.id, s.name || words.structures[s.kind]] as const),
    ...named(plan.trees, words.legend.tree),
    ...named(plan.utilities, words.legend.utility),
    ...named(plan.controllers, words.devices.controller),
    ...named(plan.sources, words.devices.connection),
    ...supply.zones.map((zone) => [zone.id, words.zoneOf(zone.number)] as const),
    ...runNames(design),
    ...design.beds.map((bed) => [bed.id, bed.name || words.bedOf(bed.mark)] as const),
    ...Object.entries(deviceNames(design)),
  ]);
}

const LOOKS_LIKE_ID = /[A-Za-z0-9]+(?:[-:/._][A-Za-z0-9.]+)+/g;

/** A text with every id in it told by its printed name. A plain word is taken for an id only where it stands alone. */
export const tellNames = (text: string, names: PrintedNames): string => {
  const told = (id: string): string => (Object.hasOwn(names, id) ? (names[id] ?? id) : id);
  return told(text) === text ? text.replace(LOOKS_LIKE_ID, told) : told(text);
};
