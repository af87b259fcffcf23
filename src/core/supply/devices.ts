import type { Catalog } from '../catalog';
import { headingRad, type PlanPoint, type Polyline } from '../geometry';
import type { Plan } from '../plan';
import type { CheckPlace } from './checkValves';
import { alongPath } from './crossings';
import { drainPlace } from './lowPoints';
import type { SizedBranch } from './network';
import type { RoutedZone } from './routePipes';
import type { SourceModel } from './source';
import type { Device, FlushResult, ServedBed } from './types';

const partFor = (catalog: Catalog, use: string): string | null =>
  catalog.fittings.find((fitting) => fitting.use === use)?.id ?? null;

/** How far apart the headworks are drawn along the main, m. */
const HEADWORKS_STEP_M = 0.45;
/** A rise less than this makes no high point worth an air relief of its own, m. */
const HIGH_POINT_M = 0.3;

/** Where the headworks stand: along the first of the main, or straight on from the source where the main is short. */
function headworksLine(sourceAt: PlanPoint, main: readonly SizedBranch[]): Polyline {
  const first = main[0]?.branch.path;
  if (first && first.length > 1) return first;
  return [sourceAt, { x: sourceAt.x + 5, y: sourceAt.y }];
}

/** Connection, meter, shut-off, backflow preventer, master valve, flow sensor, drain points and controller, as drawn things. */
export function sharedDevices(input: {
  readonly plan: Plan;
  readonly catalog: Catalog;
  readonly source: SourceModel;
  readonly backflowId: string | null;
  readonly main: readonly SizedBranch[];
  /** Low points of the main; where there is no main, its drain point stands at the connection. */
  readonly drainsAt: readonly PlanPoint[];
}): Device[] {
  const { plan, catalog, source, main } = input;
  const devices: Device[] = [];
  const controllers = Object.values(plan.controllers).sort((a, b) => (a.id < b.id ? -1 : 1));
  for (const controller of controllers) {
    devices.push({
      id: controller.id,
      kind: 'controller',
      at: controller.at,
      angleRad: 0,
      partId: partFor(catalog, 'controller'),
      zoneId: null,
    });
  }
  if (!source.at) return devices;
  const line = headworksLine(source.at, main);
  const wanted: { kind: Device['kind']; partId: string | null }[] = [
    { kind: 'connection', partId: null },
    ...(source.meter ? [{ kind: 'meter' as const, partId: source.meter.id }] : []),
    { kind: 'shut-off', partId: partFor(catalog, 'shut-off') },
    { kind: 'backflow', partId: input.backflowId },
    ...(controllers.some(({ masterValve }) => masterValve)
      ? [{ kind: 'master-valve' as const, partId: partFor(catalog, 'master-valve') }]
      : []),
    ...(controllers.some(({ flowSensor }) => flowSensor)
      ? [{ kind: 'flow-sensor' as const, partId: partFor(catalog, 'flow-sensor') }]
      : []),
  ];
  wanted.forEach(({ kind, partId }, index) => {
    const { at, headingRad: angleRad } = alongPath(line, index * HEADWORKS_STEP_M);
    devices.push({ id: `source/${kind}`, kind, at, angleRad, partId, zoneId: null });
  });
  const drains = input.drainsAt.length > 0 ? input.drainsAt : [source.at];
  drains.forEach((at, index) => {
    devices.push({
      id: index === 0 ? 'source/drain-point' : `source/drain-point-${index + 1}`,
      kind: 'drain-point',
      at,
      angleRad: 0,
      partId: partFor(catalog, 'drain-point'),
      zoneId: null,
    });
  });
  return devices;
}

/** The highest place of a bed's tubing, and its height. */
function highestOf(bed: ServedBed): { at: PlanPoint; heightM: number } {
  let best = { at: bed.layout.stubUp, heightM: bed.elevationAt(bed.layout.stubUp) };
  for (const at of bed.layout.runs.flatMap(({ path }) => path)) {
    const heightM = bed.elevationAt(at);
    if (heightM > best.heightM + 1e-6) best = { at, heightM };
  }
  return best;
}

/**
 * Air relief at the high point of the zone, and at that of every other bed that rises above the header feeding it.
 * Common practice (one at each local high point), no source.
 */
function airReliefs(beds: readonly ServedBed[]): PlanPoint[] {
  const tops = beds
    .map((bed) => ({ ...highestOf(bed), stubM: bed.elevationAt(bed.layout.stubUp), bedId: bed.bedId }))
    .sort((a, b) => b.heightM - a.heightM || (a.bedId < b.bedId ? -1 : 1));
  return tops
    .filter((top, index) => index === 0 || top.heightM > top.stubM + HIGH_POINT_M)
    .map(({ at }) => at);
}

/** What is drawn for one zone: its assembly, flush valves, air relief, check valves and drain points. */
export function zoneDevices(input: {
  readonly catalog: Catalog;
  readonly routed: RoutedZone;
  readonly assemblyId: string;
  readonly headers: readonly SizedBranch[];
  readonly beds: readonly ServedBed[];
  readonly flush: readonly Pick<FlushResult, 'at'>[];
  readonly checks: readonly CheckPlace[];
}): Device[] {
  const { catalog, routed, headers, beds } = input;
  const zoneId = routed.id;
  const first = headers[0]?.branch.path;
  const numbered = (
    kind: Device['kind'],
    use: string,
    places: readonly { at: PlanPoint; angleRad: number }[],
  ): Device[] =>
    places.map(({ at, angleRad }, index) => ({
      id: `${zoneId}/${kind}-${index + 1}`,
      kind,
      at,
      angleRad,
      partId: partFor(catalog, use),
      zoneId,
    }));
  const level = (at: PlanPoint) => ({ at, angleRad: 0 });
  return [
    {
      id: routed.valve?.id ?? `${zoneId}/valve-assembly`,
      kind: 'valve-assembly',
      at: routed.assemblyAt,
      angleRad: first && first.length > 1 ? headingRad(first[0]!, first[1]!) : 0,
      partId: input.assemblyId,
      zoneId,
    },
    ...numbered(
      'flush-valve',
      'flush-valve',
      input.flush.map(({ at }) => level(at)),
    ),
    ...numbered('air-relief', 'air-relief', airReliefs(beds).map(level)),
    ...numbered('check-valve', 'check-valve', input.checks),
    ...numbered(
      'drain-point',
      'drain-point',
      routed.drains.map((node) => level(drainPlace(routed.tree, routed.branches, node))),
    ),
  ];
}
