import type { PlanPoint } from '../geometry';
import { applyCommand, type Command, type Plan } from '../plan';
import type { Outcome } from '../units';
import type { Design } from './types';
import { SAME_TUBING_M, stretchesAway } from './waysMoved';

/** What two ways of one plan are weighed by. Null where the design holds no such figure. */
export interface WayFigures {
  readonly tubingM: number;
  /** Joins in the tubing and splices of the cut list. */
  readonly fittings: number;
  readonly labourHours: number;
  readonly cost: number | null;
  /** Emission uniformity of the zone that has the least. */
  readonly uniformityRatio: number | null;
  /** What the calendar gives in a year. */
  readonly waterYearM3: number;
  /** Pressure head at the emitter that has the least. */
  readonly leastHeadM: number | null;
  readonly valves: number;
  readonly stops: number;
}

/** A stretch of tubing that the other way does not have at that place. */
export interface ChangedStretch {
  readonly bedId: string;
  readonly runId: string;
  readonly path: readonly PlanPoint[];
}

/** How one run stands to the other way. */
export interface RunChange {
  readonly bedId: string;
  readonly runId: string;
  /** `only-here`: nothing of it lies where the other way has tubing. */
  readonly kind: 'only-here' | 'moved';
  /** Length that lies further than the tolerance from the other way's tubing. */
  readonly awayM: number;
}

/** What one side of a comparison shows. */
export interface WaySide {
  readonly figures: WayFigures;
  readonly runs: readonly RunChange[];
  readonly stretches: readonly ChangedStretch[];
}

/** Two whole designs side by side, and what is different between them. */
export interface WaysCompared {
  readonly first: WaySide;
  readonly second: WaySide;
  /** Beds that share their valve with other beds than they do the other way. */
  readonly regroupedBeds: readonly string[];
  /** Tubing nearer than this to the other way's counts as the same. */
  readonly toleranceM: number;
}

/** The plan as a way has it: the commands in order, or the first refusal. The plan itself is not touched. */
export function planOfWay(plan: Plan, commands: readonly Command[]): Outcome<Plan> {
  let changed = plan;
  for (const command of commands) {
    const applied = applyCommand(changed, command);
    if (!applied.ok) return applied;
    changed = applied.value.plan;
  }
  return { ok: true, value: changed, problems: [] };
}

const least = (values: readonly number[]): number | null =>
  values.length === 0 ? null : Math.min(...values);

/** The figures of one design that ways are weighed by, all taken from its own results. */
export function wayFigures(design: Design): WayFigures {
  const routed = design.beds.filter((bed) => bed.layout.status === 'routed');
  const settled = design.supply.zones.filter((zone) => zone.solution.status === 'settled');
  const splices = design.takeoff.cuts.filter((cut) => cut.spliceAtEnd).length;
  return {
    tubingM: routed.flatMap((bed) => bed.layout.runs).reduce((sum, run) => sum + run.lengthM, 0),
    fittings: routed.reduce((sum, bed) => sum + bed.layout.joins.length, 0) + splices,
    labourHours: design.takeoff.labourHours,
    cost: design.takeoff.cost,
    uniformityRatio: least(settled.map((zone) => zone.emissionUniformity)),
    waterYearM3: design.schedule.zones.reduce(
      (sum, zone) => sum + zone.areaM2 * zone.months.reduce((depth, month) => depth + month.appliedM, 0),
      0,
    ),
    leastHeadM: least(settled.map((zone) => zone.emitterHeadM.min)),
    valves: design.supply.zones.length,
    stops: design.findings.filter((finding) => finding.severity === 'stop').length,
  };
}

/** The beds on a bed's valve, itself included, as one text; a bed with several feeds may have several valves. */
function matesOf(design: Design): ReadonlyMap<string, string> {
  return new Map(
    design.beds.map((bed) => [
      bed.id,
      design.supply.zones
        .filter((zone) => zone.bedIds.includes(bed.id))
        .map((zone) => [...zone.bedIds].sort().join(' '))
        .sort()
        .join(' / '),
    ]),
  );
}

function sideOf(design: Design, other: Design): WaySide {
  const runs: RunChange[] = [];
  const stretches: ChangedStretch[] = [];
  for (const bed of design.beds) {
    const there = other.beds.find((one) => one.id === bed.id)?.layout.runs ?? [];
    for (const run of bed.layout.runs) {
      const away = stretchesAway(
        run.path,
        there.map((one) => one.path),
      );
      if (away.lengthM === 0) continue;
      const isWhole = away.lengthM > 0.98 * run.lengthM;
      runs.push({
        bedId: bed.id,
        runId: run.id,
        kind: isWhole ? 'only-here' : 'moved',
        awayM: away.lengthM,
      });
      stretches.push(...away.paths.map((path) => ({ bedId: bed.id, runId: run.id, path })));
    }
  }
  return { figures: wayFigures(design), runs, stretches };
}

/** Two designs of the same site weighed against each other. Beds are matched by id; nothing is designed here. */
export function compareWays(first: Design, second: Design): WaysCompared {
  const [before, after] = [matesOf(first), matesOf(second)];
  return {
    first: sideOf(first, second),
    second: sideOf(second, first),
    regroupedBeds: [...before.keys()]
      .filter((id) => after.has(id) && after.get(id) !== before.get(id))
      .sort(),
    toleranceM: SAME_TUBING_M,
  };
}
