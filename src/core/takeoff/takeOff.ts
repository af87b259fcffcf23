import { type Catalog, setting } from '../catalog';
import type { Bed, Plan } from '../plan';
import type { SupplyDesign } from '../supply';
import type { Problem } from '../units';
import { countDevices, countJoins, devicesOf } from './fittings';
import { labourOf } from './labour';
import { type PartsList, startPartsList } from './parts';
import { countPipes, pipesOf, sleevesOf } from './pipes';
import { stapleCount } from './staples';
import { type CountedBed, countTubing } from './tubing';
import type { Takeoff, TakeoffLine } from './types';

/** What a takeoff is made from: the plan, the parts, and what was designed. */
export interface TakeoffInput {
  readonly plan: Plan;
  readonly catalog: Catalog;
  readonly beds: readonly CountedBed[];
  readonly supply: SupplyDesign;
}

/** Two connectors a valve: one on its own wire, one on the common. Common practice, no source. */
const CONNECTORS_A_VALVE = 2;

/** The drawn bed of a designed one: a part "id/2" of a repaired bed belongs to "id". */
export function drawnBed(plan: Plan, bedId: string): Bed | undefined {
  return plan.beds[bedId] ?? plan.beds[bedId.replace(/\/\d+$/, '')];
}

/**
 * Parts to buy, the cut list, hours of work and cost of a design.
 * Everything is counted from the topology and the routes; nothing is estimated from area. Refused beds count for nothing.
 */
export function takeOff({ plan, catalog, beds, supply }: TakeoffInput): Takeoff {
  const { settings } = plan;
  const parts = startPartsList(catalog);
  const routed = beds.filter((bed) => bed.layout.status === 'routed');
  const tubing = countTubing(routed, catalog, setting(settings, 'tubingWasteRatio'), parts);
  countJoins(routed, parts);
  const staples = countStaples(plan, routed, parts);
  const welds = countPipes(supply, setting(settings, 'pipeWasteRatio'), parts);
  countDevices(routed, supply, parts);
  countGlue(welds + countRisers(routed), settings, parts);
  const wireM = countWire(supply, settings, parts);
  const controllers = countControllers(plan, supply, parts);
  countRecycledMarking(plan, supply, parts);

  const lines = parts.lines();
  const cuts = tubing.lists.flatMap((list) => list.cuts);
  const joins = routed.reduce((sum, bed) => sum + bed.layout.joins.length, 0);
  const labour = labourOf(
    {
      tubingM: routed.flatMap((bed) => bed.layout.runs).reduce((sum, run) => sum + run.lengthM, 0),
      staples,
      fittings: joins + cuts.filter((cut) => cut.spliceAtEnd).length,
      trenchM: pipesOf(supply).reduce((sum, pipe) => sum + pipe.lengthM, 0),
      sleeveM: sleevesOf(supply).reduce((sum, sleeve) => sum + sleeve.lengthM, 0),
      assemblies: supply.zones.length,
      wireM,
      controllers,
      zones: supply.zones.length,
    },
    settings,
  );
  return {
    lines,
    cuts,
    rolls: tubing.lists.flatMap((list) => list.rolls),
    cutting: tubing.lists.map((list) => list.proof),
    labour,
    labourHours: labour.reduce((sum, task) => sum + task.hours, 0),
    cost: costOf(lines),
    problems: [...tubing.problems, ...parts.problems(), ...unpriced(lines)],
  };
}

function countStaples(plan: Plan, beds: readonly CountedBed[], parts: PartsList): number {
  let total = 0;
  for (const bed of beds) {
    const slopeRatio = drawnBed(plan, bed.id)?.slopeRatio ?? 0;
    const count = stapleCount(bed.layout, bed.soil, slopeRatio, plan.settings);
    parts.countUse('staple', count, [bed.id]);
    total += count;
  }
  return total;
}

/** Each stub-up riser is one weld to its header. */
function countRisers(beds: readonly CountedBed[]): number {
  return beds.reduce(
    (sum, bed) => sum + bed.layout.joins.filter((join) => join.fitting === 'stub-up-tee').length,
    0,
  );
}

function countGlue(welds: number, settings: Plan['settings'], parts: PartsList): void {
  const cans = Math.ceil(welds / setting(settings, 'glueWeldsPerCan'));
  parts.countUse('glue', cans, []);
  parts.countUse('primer', cans, []);
  parts.countUse('thread-tape', welds > 0 ? 1 : 0, []);
}

/** Wire with its slack, metres, and connectors at every valve. */
function countWire(supply: SupplyDesign, settings: Plan['settings'], parts: PartsList): number {
  const drawnM = supply.wires.reduce((sum, wire) => sum + wire.lengthM, 0);
  const wireM = drawnM * (1 + setting(settings, 'wireSlackRatio'));
  const zones = supply.wires.flatMap((wire) => (wire.zoneId === null ? [] : [wire.zoneId]));
  parts.countUseM('wire', wireM, zones);
  parts.countUse('wire-connector', CONNECTORS_A_VALVE * supply.zones.length, zones);
  return wireM;
}

function countControllers(plan: Plan, supply: SupplyDesign, parts: PartsList): number {
  const drawn = new Set(devicesOf(supply).map((device) => device.kind));
  const controllers = Object.values(plan.controllers);
  for (const controller of controllers) {
    parts.countUse('controller', 1, [controller.id]);
    if (controller.weatherSensor) parts.countUse('weather-sensor', 1, [controller.id]);
    if (controller.masterValve && !drawn.has('master-valve'))
      parts.countUse('master-valve', 1, [controller.id]);
    if (controller.flowSensor && !drawn.has('flow-sensor')) parts.countUse('flow-sensor', 1, [controller.id]);
  }
  return controllers.length;
}

/** Recycled water is marked along every trench and at every valve. */
function countRecycledMarking(plan: Plan, supply: SupplyDesign, parts: PartsList): void {
  if (!Object.values(plan.sources).some((source) => source.water === 'recycled')) return;
  const pipes = pipesOf(supply);
  parts.countUseM(
    'recycled-marking',
    pipes.reduce((sum, pipe) => sum + pipe.lengthM, 0),
    pipes.map((pipe) => pipe.id),
  );
  parts.countUse(
    'recycled-tag',
    supply.zones.length,
    supply.zones.map((zone) => zone.id),
  );
}

/** Sum of the priced lines; null where nothing has a price. */
function costOf(lines: readonly TakeoffLine[]): number | null {
  const prices = lines.flatMap((line) => (line.price === null ? [] : [line.price]));
  return prices.length === 0 ? null : prices.reduce((sum, price) => sum + price, 0);
}

/** Says how many lines a cost leaves out; silent where the user gave no price at all. */
function unpriced(lines: readonly TakeoffLine[]): readonly Problem[] {
  const without = lines.filter((line) => line.price === null);
  if (without.length === 0 || without.length === lines.length) return [];
  return [
    {
      code: 'takeoff.unpriced',
      severity: 'note',
      where: {},
      params: { count: without.length, parts: without.slice(0, 8).map((line) => line.description) },
    },
  ];
}
