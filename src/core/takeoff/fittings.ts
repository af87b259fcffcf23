import { distanceM, type PlanPoint } from '../geometry';
import type { Join, Run } from '../layout';
import type { Device, SupplyDesign } from '../supply';
import type { PartsList } from './parts';
import type { CountedBed } from './tubing';

/** A flush valve drawn by the supply and a join of the layout this close are the same valve. */
const SAME_PLACE_M = 0.3;

/** True where tubing is fed from below: at a stub-up tee, and at the coupling of a single row, alone or with its lead. */
function comesUpAt(join: Join, runs: readonly Run[]): boolean {
  if (join.fitting !== 'coupling') return join.fitting === 'stub-up-tee';
  const [first, second] = join.runIds;
  return (
    second === undefined || runs.some(({ id, role }) => role === 'lead' && (id === first || id === second))
  );
}

/**
 * Counts what joins tubing, from the layout's own joins: each is one fitting, and no other place may have one.
 * Each place where a header comes up brings its riser, a flush valve its box.
 */
export function countJoins(beds: readonly CountedBed[], parts: PartsList): void {
  for (const { layout } of beds) {
    for (const join of layout.joins) {
      const from = join.runIds.length > 0 ? join.runIds : [layout.bedId];
      parts.countUse(join.fitting, 1, from);
      if (comesUpAt(join, layout.runs)) parts.countUse('stub-up-riser', 1, [layout.bedId]);
      if (join.fitting === 'flush-valve') parts.countUse('flush-box', 1, from);
    }
  }
}

const USES: Readonly<Partial<Record<Device['kind'], readonly string[]>>> = {
  connection: ['connection-box'],
  'shut-off': ['shut-off'],
  'master-valve': ['master-valve'],
  'flow-sensor': ['flow-sensor'],
  'flush-valve': ['flush-valve', 'flush-box'],
  'air-relief': ['air-relief', 'air-relief-box'],
  'drain-point': ['drain-point', 'drain-box'],
  'check-valve': ['check-valve'],
};

/** Every device of the supply once, whichever list it stands in. */
export function devicesOf(supply: SupplyDesign): readonly Device[] {
  const all = [...supply.devices, ...supply.zones.flatMap((zone) => zone.devices)];
  return [...new Map(all.map((device) => [device.id, device])).values()];
}

/**
 * Counts devices, the valve assemblies with their boxes, and the backflow preventer.
 * A flush valve that the beds' joins already hold is not counted again. The meter is the water company's.
 */
export function countDevices(beds: readonly CountedBed[], supply: SupplyDesign, parts: PartsList): void {
  const flushJoins: PlanPoint[] = beds.flatMap((bed) =>
    bed.layout.joins.filter((join) => join.fitting === 'flush-valve'),
  );
  for (const device of devicesOf(supply)) {
    const isCounted =
      device.kind === 'flush-valve' && flushJoins.some((join) => distanceM(join, device.at) <= SAME_PLACE_M);
    if (isCounted) continue;
    for (const use of USES[device.kind] ?? []) parts.countUse(use, 1, [device.id]);
  }
  for (const zone of supply.zones) {
    const { assembly } = zone;
    parts.countPart({
      id: assembly.id,
      name: assembly.name,
      unit: 'each',
      quantity: 1,
      from: [zone.id],
      unitPrice: assembly.order?.price ?? null,
    });
    parts.countUse(assembly.box, 1, [zone.id]);
    parts.countUse('gauge-point', 1, [zone.id]);
  }
  if (supply.backflow && supply.zones.length > 0) {
    parts.countPart({
      id: supply.backflow.id,
      name: supply.backflow.name,
      unit: 'each',
      quantity: 1,
      from: supply.zones.map((zone) => zone.id),
      unitPrice: supply.backflow.order?.price ?? null,
    });
  }
}
