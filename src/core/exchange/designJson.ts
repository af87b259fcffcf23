import type { Design, DesignedBed } from '../design';
import type { PlanPoint } from '../geometry';
import type { Alternative, Run } from '../layout';
import type { Zone } from '../supply';
import { type Problem, printer } from '../units';
import { sayProblem, saySource } from '../words';
import { scheduleJson, waterBudgetJson } from './designWater';
import { withFixedDigits } from './fixedDigits';

/** Version of design.json; raised when a name or a meaning changes. */
export const DESIGN_JSON_VERSION = 1;

const pair = (point: PlanPoint): readonly [number, number] => [point.x, point.y];

function runOf(run: Run) {
  return {
    id: run.id,
    role: run.role,
    ...(run.use === undefined ? {} : { use: run.use }),
    closed: run.closed,
    path: run.path.map(pair),
    lengthM: run.lengthM,
    emitters: run.emittersM,
    startsAt: pair(run.startsAt),
    flushAt: run.flushAtM,
    minBendRadiusM: Number.isFinite(run.minBendRadiusM) ? run.minBendRadiusM : null,
    straightFraction: run.straightFraction,
  };
}

function alternativeOf(choice: Alternative) {
  return {
    key: choice.key,
    layout: choice.layout,
    rowSpacingM: choice.rowSpacingM,
    stretchRatio: choice.stretchRatio,
    directionRad: choice.directionRad,
    lengthM: choice.lengthM,
    turns: choice.turns,
    rows: choice.rows,
    fittings: choice.fittings,
    straightFraction: choice.straightFraction,
    coverage: { coveredFraction: choice.coverage.coveredRatio, maxGapM: choice.coverage.maxGapM },
  };
}

function problemOf(problem: Problem, names: Readonly<Record<string, string>>, design: Design) {
  const said = sayProblem(problem, printer(design.plan.display.units), names);
  return {
    rule: problem.code,
    severity: problem.severity,
    where: problem.where,
    message: [said.what, said.why, said.next].filter((text) => text !== '').join(' '),
    value: problem.value ?? null,
    limit: problem.limit ?? null,
    unit: problem.unit ?? null,
    source: problem.source ? saySource(problem.source) : null,
  };
}

function bedOf(bed: DesignedBed, design: Design, names: Readonly<Record<string, string>>) {
  const { layout, choice } = bed;
  const { dripline } = choice;
  return {
    id: bed.id,
    name: bed.name,
    mark: bed.mark,
    status: layout.status,
    areaM2: layout.areaM2,
    usableAreaM2: layout.usableAreaM2,
    usable: {
      type: 'MultiPolygon',
      coordinates: layout.usable.map(({ outer, holes }) =>
        [outer, ...holes].map((ring) => [...ring, ...ring.slice(0, 1)].map(pair)),
      ),
    },
    dripline: {
      id: dripline.id,
      emitterFlowM3s: dripline.emitterFlowM3s,
      emitterSpacingM: dripline.emitterSpacingM,
      insideDiameterM: dripline.insideDiameterM,
      minBendRadiusM: dripline.minBendRadiusM,
    },
    nominalRowSpacingM: layout.nominalRowSpacingM,
    rowSpacingM: layout.rowSpacingM,
    layout: layout.layout,
    chosen: layout.chosen,
    alternatives: layout.alternatives.map(alternativeOf),
    runs: layout.runs.map(runOf),
    joins: layout.joins.map(({ x, y, runIds, fitting }) => ({ x, y, runIds, fitting })),
    coverage: { coveredFraction: layout.coverage.coveredRatio, maxGapM: layout.coverage.maxGapM },
    applicationRateMs: bed.applicationRateMs,
    nominalApplicationRateMs: bed.nominalApplicationRateMs,
    ruleOfThumbLengthM: layout.ruleOfThumbLengthM,
    runLimitM: bed.runLimitM,
    zoneId: bed.zoneId,
    problems: layout.problems.map((problem) => problemOf(problem, names, design)),
  };
}

function zoneOf(zone: Zone, names: Readonly<Record<string, string>>, design: Design) {
  const { headM: _headM, ...worstEmitter } = zone.worstEmitter;
  return {
    id: zone.id,
    number: zone.number,
    bedIds: zone.bedIds,
    flowM3s: zone.flowM3s,
    assembly: {
      id: zone.assembly.id,
      class: zone.assembly.class,
      regulatedHeadM: zone.assembly.regulatedHeadM,
    },
    pipes: zone.pipes.map((pipe) => ({
      path: pipe.path.map(pair),
      insideDiameterM: pipe.pipe.insideDiameterM,
      flowM3s: pipe.flowM3s,
      velocityMs: pipe.velocityMs,
      headlossM: pipe.headlossM,
      role: pipe.role,
    })),
    emitterHeadM: zone.emitterHeadM,
    emitterFlowM3s: zone.emitterFlowM3s,
    worstEmitter,
    emissionUniformity: zone.emissionUniformity,
    distributionUniformity: zone.distributionUniformity,
    flush: zone.flush.map((flush) => ({
      flowM3s: flush.flowM3s,
      endVelocityMs: flush.endVelocityMs,
      at: pair(flush.at),
      runId: flush.runId,
    })),
    requiredSourceHeadM: zone.requiredSourceHeadM,
    availableSourceHeadM: zone.availableSourceHeadM,
    why: zone.why.map((reason) => sayProblem(reason, printer(design.plan.display.units), names).what),
  };
}

/** Names of everything that findings point at, by id. */
export function namesOf(design: Design): Readonly<Record<string, string>> {
  const drawn = [
    design.plan.beds,
    design.plan.structures,
    design.plan.trees,
    design.plan.sources,
    design.plan.valves,
  ].flatMap((map) => Object.values<{ readonly id: string; readonly name: string }>(map));
  const named = drawn.filter((item) => item.name !== '').map((item) => [item.id, item.name] as const);
  const zones = design.supply.zones.map((zone) => [zone.id, zone.name] as const);
  return Object.fromEntries([
    ...named,
    ...zones,
    ...design.beds.map((bed) => [bed.id, `${bed.name} (bed ${bed.mark})`] as const),
  ]);
}

/** The whole design as data: SI units, local plane, fixed digits. The shape is a promise; `assets/schema` holds it. */
export function designJson(design: Design): unknown {
  const names = namesOf(design);
  return withFixedDigits({
    format: 'rillsheet-design',
    version: DESIGN_JSON_VERSION,
    planId: design.plan.id,
    units: 'SI',
    beds: design.beds.map((bed) => bedOf(bed, design, names)),
    zones: design.supply.zones.map((zone) => zoneOf(zone, names, design)),
    findings: design.findings.map((finding) => problemOf(finding, names, design)),
    takeoff: design.takeoff.lines.map(({ part, description, quantity, unit, eachM, packs, from, price }) => ({
      part,
      description,
      quantity,
      unit,
      eachM: eachM ?? null,
      packs: packs ?? null,
      from,
      price,
    })),
    rolls: design.takeoff.rolls,
    labour: design.takeoff.labour,
    cost: design.takeoff.cost,
    cuts: design.takeoff.cuts,
    schedule: scheduleJson(design.schedule),
    waterBudget: waterBudgetJson(design.waterBudget),
  });
}

/** The text of design.json. */
export const designJsonText = (design: Design): string => `${JSON.stringify(designJson(design), null, 1)}\n`;

/** Emitters of every zone as arrays, for those who want each one: `emitters.json`. */
export function emittersJsonText(design: Design): string {
  const zones = design.supply.zones.map(({ id, emitters }) => ({
    id,
    x: emitters.x,
    y: emitters.y,
    runId: Array.from(emitters.run, (index) => emitters.runIds[index] ?? ''),
    headM: emitters.headM,
    flowM3s: emitters.flowM3s,
  }));
  return `${JSON.stringify(withFixedDigits({ format: 'rillsheet-emitters', version: DESIGN_JSON_VERSION, units: 'SI', zones }))}\n`;
}
