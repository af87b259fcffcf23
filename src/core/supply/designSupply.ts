import { type Catalog, setting } from '../catalog';
import { polylineLengthM, quantisePoints } from '../geometry';
import { supplyHeadM, waterViscosityM2s } from '../hydraulics';
import type { Plan } from '../plan';
import { allSteps, type Problem, type Steps } from '../units';
import { sleevesFor, utilityCrossings } from './crossings';
import { designZoneSteps, pipesDrawn, type ZoneTask } from './designZone';
import { sharedDevices } from './devices';
import { drawnPipeProblems } from './drawnPipes';
import { groundOf } from './elevation';
import { isTooLargeToTry } from './foreseen';
import { chooseAssembly, groupZones, type ZoneGroup } from './groupZones';
import { sizeBranches } from './headerSizing';
import { drainPlace } from './lowPoints';
import type { SizedBranch } from './network';
import { pipesThatCross } from './pipesCross';
import { type RoutedPipes, routePipesSteps } from './routePipes';
import { siteOf } from './site';
import { pipesOf } from './sizing';
import { chooseBackflow, modelSource, type SourceModel } from './source';
import type { ServedBed, SupplyDesign, Zone } from './types';
import { wireSleevesFor } from './wireSleeves';

/** Remembers the answer of a stage for an id, computed in steps, while its inputs stay identical. `core/design` gives its own. */
export type RecallInSteps = <T>(
  stage: string,
  id: string,
  inputs: readonly unknown[],
  compute: () => Steps<T>,
) => Steps<T>;

/** The answer remembered for a stage and an id where its inputs are identical, else null. `core/design` gives its own. */
export type Peek = <T>(stage: string, id: string, inputs: readonly unknown[]) => T | null;

/** What the supply stage is given. */
export interface SupplyInput {
  readonly plan: Plan;
  readonly catalog: Catalog;
  readonly beds: readonly ServedBed[];
  readonly quality: 'preview' | 'finished';
  /** Absent: everything is computed. */
  readonly recallInSteps?: RecallInSteps;
  /** Absent: a preview never takes a zone that was finished before. */
  readonly peek?: Peek;
}

const computeAlways: RecallInSteps = (_stage, _id, _inputs, compute) => compute();

/** Points along the source's curve for drawing, to twice the usable flow. */
const CURVE_POINTS = 9;

function drawnCurve(source: SourceModel): SupplyDesign['sourceCurve'] {
  const mostM3s = 2 * (source.usableFlowM3s ?? 6e-4);
  return Array.from({ length: CURVE_POINTS }, (_, index) => {
    const flowM3s = (index / (CURVE_POINTS - 1)) * mostM3s;
    return { flowM3s, headM: supplyHeadM(source.curve, flowM3s) };
  }).filter(({ headM }) => headM >= 0);
}

function sizeMain(
  plan: Plan,
  catalog: Catalog,
  routed: RoutedPipes,
  flowOfZone: ReadonlyMap<string, number>,
): SizedBranch[] {
  return sizeBranches({
    plan,
    pipes: pipesOf(catalog, 'pvc-sch40'),
    branches: routed.mainBranches,
    idPrefix: 'main-',
    depthM: setting(plan.settings, 'mainDepthM'),
    catalog,
    locked: routed.mainLocked,
    flowOf: (feeds) => Math.max(0, ...feeds.map((zoneId) => flowOfZone.get(zoneId) ?? 0)),
  });
}

function groupsWithIds(groups: readonly ZoneGroup[]) {
  return groups.map((group, index) => ({ id: `zone-${index + 1}`, number: index + 1, group }));
}

function unreachedMains(routed: RoutedPipes): Problem[] {
  return (routed.mainTree?.unreached ?? []).map((zoneId) => ({
    code: 'supply.no-way-to-assembly',
    severity: 'stop',
    where: { id: zoneId },
    params: { zone: zoneId },
  }));
}

function notTriedOut(zones: readonly Zone[]): Problem[] {
  return zones.filter(isTooLargeToTry).map(({ id, number, network }) => ({
    code: 'supply.not-tried-out',
    severity: 'note',
    where: { id },
    params: { zone: number, places: network.nodes.length },
  }));
}

/** The main as drawn: each length with the greatest flow and loss that any zone puts through it. */
function mainDrawn(main: readonly SizedBranch[], zones: readonly Zone[]): SupplyDesign['main'] {
  return main.map((sized) => {
    const through = zones
      .map((zone) => pipesDrawn([sized], zone.network, zone.solution, 'main')[0])
      .filter((pipe) => pipe !== undefined)
      .sort((a, b) => b.flowM3s - a.flowM3s)[0];
    return through ?? pipesDrawn([sized], null, null, 'main')[0]!;
  });
}

/**
 * The whole supply side: beds grouped to zones, assemblies chosen and placed, main, headers and wires routed and sized,
 * each zone's network solved to the last emitter. Every stage is a function of its own, given here in order.
 *
 * @param input.quality a preview leaves out flushing and the required source head's search
 */
export function designSupply(input: SupplyInput): SupplyDesign {
  return allSteps(supplySteps(input));
}

/** As `designSupply`, in steps of a few milliseconds on a garden's plan: whoever runs it can do something else in between. */
export function* supplySteps(input: SupplyInput): Steps<SupplyDesign> {
  const { plan, catalog, beds, quality } = input;
  const recall = input.recallInSteps ?? computeAlways;
  const source = modelSource(plan, catalog);
  const groups = groupsWithIds(groupZones({ plan, catalog, beds, usableFlowM3s: source.usableFlowM3s }));
  const ground = groundOf(plan);
  const site = siteOf(
    plan,
    beds.map(({ bedId, name, layout }) => ({ bedId, name, outline: layout.outline })),
  );
  yield;
  const routed = yield* routePipesSteps(
    plan,
    site,
    source.at,
    groups.map(({ id, group }) => ({
      id,
      zoneKey: group.zoneKey,
      stubUps: group.beds.map(({ bedId, layout }) => ({ bedId, at: layout.stubUp })),
    })),
    ground.at,
  );
  const flowOfZone = new Map(groups.map(({ id, group }) => [id, group.nominalFlowM3s]));
  const main = sizeMain(plan, catalog, routed, flowOfZone);
  const greatestFlowM3s = Math.max(0, ...flowOfZone.values());
  const backflow = chooseBackflow(plan, catalog, greatestFlowM3s);
  const kinematicViscosityM2s = waterViscosityM2s(setting(plan.settings, 'waterTemperatureK'));
  const zones: Zone[] = [];
  for (const { id, number, group } of groups) {
    const routedZone = routed.zones.find((zone) => zone.id === id)!;
    const compensating = group.beds.every(({ dripline }) => dripline.emitter.kind === 'compensating');
    const assembly = chooseAssembly(
      catalog,
      group.nominalFlowM3s,
      compensating,
      routedZone.valve?.assemblyId ?? null,
    );
    if (!assembly) continue;
    const task: ZoneTask = {
      id,
      number,
      group,
      routed: routedZone,
      assembly,
      assemblyElevationM: routedZone.valve?.elevationM ?? ground.at(routedZone.assemblyAt),
      source,
      backflow,
      mainTree: routed.mainTree,
      mainDrains: routed.mainDrains,
      main: main.filter(({ branch }) => branch.feeds.includes(id)),
      heightAt: ground.at,
      kinematicViscosityM2s,
      site,
      quality,
    };
    const inputs = zoneInputs(plan, catalog, task);
    const finished = input.peek?.<Zone>('zone finished', id, inputs) ?? null;
    zones.push(
      finished ?? (yield* recall(`zone ${quality}`, id, inputs, () => designZoneSteps(plan, catalog, task))),
    );
    yield;
  }
  const mainPipes = mainDrawn(main, zones);
  const mainSleeves = sleevesFor(plan, catalog, site, mainPipes, 'main-sleeve-');
  const pipeSleeves = [...mainSleeves, ...zones.flatMap(({ sleeves }) => sleeves)];
  const wirePaths = routed.wires.map(({ path }) => path);
  return {
    zones,
    main: mainPipes,
    sleeves: [...mainSleeves, ...wireSleevesFor(plan, catalog, site, wirePaths, pipeSleeves)],
    crossings: utilityCrossings(plan, [...mainPipes, ...zones.flatMap(({ pipes }) => pipes)]),
    devices: sharedDevices({
      plan,
      catalog,
      source,
      backflowId: backflow?.id ?? null,
      main,
      drainsAt: routed.mainDrains.map((node) => drainPlace(routed.mainTree!, routed.mainBranches, node)),
    }),
    backflow,
    wires: routed.wires.map(({ zoneId, path }) => ({
      zoneId,
      path: quantisePoints(path),
      lengthM: polylineLengthM(path),
    })),
    sourceCurve: drawnCurve(source),
    usableFlowM3s: source.usableFlowM3s,
    blocked: site.blocked,
    problems: [
      ...source.problems,
      ...unreachedMains(routed),
      ...pipesThatCross(mainPipes, zones),
      ...drawnPipeProblems(
        plan,
        site,
        source.at,
        routed.zones.map(({ id, branches, locked }, index) => ({
          id,
          zoneKey: groups[index]?.group.zoneKey ?? null,
          branches,
          locked,
        })),
        { branches: routed.mainBranches, locked: routed.mainLocked },
      ),
      ...notTriedOut(zones),
    ],
    traces: source.traces,
  };
}

/** Everything a zone's answer depends on, by identity where it is immutable and by value where it was made anew. */
function zoneInputs(plan: Plan, catalog: Catalog, task: ZoneTask): unknown[] {
  const heights = [...task.routed.tree.nodes, ...(task.mainTree?.nodes ?? [])].map(({ at }) =>
    task.heightAt(at),
  );
  return [
    catalog,
    plan.settings,
    plan.structures,
    plan.controllers,
    ...task.group.beds.flatMap(({ layout, dripline, elevationAt, name }) => [
      layout,
      dripline,
      elevationAt,
      name,
    ]),
    JSON.stringify([
      task.id,
      task.group.zoneKey,
      task.group.why,
      task.group.problems,
      task.assembly,
      task.assemblyElevationM,
      task.routed.assemblyAt,
      task.routed.valve,
      task.routed.branches,
      task.routed.drains,
      task.routed.locked,
      task.routed.tree.unreached,
      task.main,
      task.source.curve,
      task.source.at,
      task.source.elevationM,
      task.source.meter,
      task.source.service,
      task.backflow,
      task.kinematicViscosityM2s,
      heights,
    ]),
  ];
}
