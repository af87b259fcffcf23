import { type Assembly, type Backflow, type Catalog, setting } from '../catalog';
import type { Network, Solution } from '../hydraulics';
import type { Plan } from '../plan';
import type { Problem, Steps, Traced } from '../units';
import { checkPlaces } from './checkValves';
import { sleevesFor } from './crossings';
import { zoneDevices } from './devices';
import type { HeightAt } from './elevation';
import { nominalFlowM3s, type ZoneGroup } from './groupZones';
import { sizeAndSolveSteps, sizeBranches } from './headerSizing';
import { drainPlace } from './lowPoints';
import { flowsMeetAtM } from './meeting';
import { headerNodeId, READ_AT, type SizedBranch, type ZonePlumbing } from './network';
import type { PipeTree } from './pipeTree';
import type { RoutedZone } from './routePipes';
import type { Site } from './site';
import { boreVelocityMs, pipesOf, sizeByVelocity } from './sizing';
import { flushZoneSteps, requiredHeadSteps, type SolvedZone } from './solveZone';
import type { SourceModel } from './source';
import type { HeaderPipe, Zone } from './types';

/** One zone as grouped, routed and furnished, ready to be sized and solved. */
export interface ZoneTask {
  readonly id: string;
  readonly number: number;
  readonly group: ZoneGroup;
  readonly routed: RoutedZone;
  readonly assembly: Assembly;
  readonly assemblyElevationM: number;
  readonly source: SourceModel;
  readonly backflow: Backflow | null;
  readonly mainTree: PipeTree | null;
  readonly mainDrains: readonly number[];
  readonly main: readonly SizedBranch[];
  readonly heightAt: HeightAt;
  readonly kinematicViscosityM2s: number;
  readonly site: Site;
  readonly quality: 'preview' | 'finished';
}

/** Pipes as drawn and counted, with the flow and loss of a solution where there is one. */
export function pipesDrawn(
  branches: readonly SizedBranch[],
  network: Network | null,
  solution: Solution | null,
  role: 'main' | 'header',
): HeaderPipe[] {
  const link = new Map(network?.links.map(({ id }, index) => [id, index]) ?? []);
  return branches.map(({ id, branch, pipe, depthM }) => {
    const index = link.get(id);
    const flowM3s = index === undefined || !solution ? 0 : Math.abs(solution.flowM3s[index]!);
    return {
      id,
      role,
      path: branch.path,
      lengthM: branch.lengthM,
      pipe,
      depthM,
      flowM3s,
      velocityMs: boreVelocityMs(flowM3s, pipe.insideDiameterM),
      headlossM: index === undefined || !solution ? 0 : Math.abs(solution.headlossM[index]!),
      locked: branch.locked,
    };
  });
}

function plumb(plan: Plan, catalog: Catalog, task: ZoneTask): ZonePlumbing {
  const { group, routed } = task;
  const pipes = pipesOf(catalog, 'pvc-sch40');
  const flowOfBed = new Map(group.beds.map((bed) => [bed.bedId, nominalFlowM3s(bed)]));
  const headers = sizeBranches({
    plan,
    pipes,
    branches: routed.branches,
    idPrefix: `${task.id}/header-`,
    depthM: setting(plan.settings, 'headerDepthM'),
    catalog,
    locked: routed.locked,
    flowOf: (feeds) => feeds.reduce((sum, bedId) => sum + (flowOfBed.get(bedId) ?? 0), 0),
  });
  const controllers = Object.values(plan.controllers);
  return {
    source: task.source,
    backflow: task.backflow,
    hasMasterValve: controllers.some(({ masterValve }) => masterValve),
    hasFlowSensor: controllers.some(({ flowSensor }) => flowSensor),
    mainTree: task.mainTree,
    mainDrains: task.mainDrains,
    main: task.main,
    assembly: task.assembly,
    assemblyAt: routed.assemblyAt,
    assemblyElevationM: task.assemblyElevationM,
    headerTree: routed.tree,
    headerDrains: routed.drains,
    headers,
    headerPipe: sizeByVelocity(plan, pipes, group.nominalFlowM3s),
    checks: checkPlaces(plan, headers, group.beds, task.heightAt(routed.assemblyAt), task.heightAt),
    heightAt: task.heightAt,
    kinematicViscosityM2s: task.kinematicViscosityM2s,
  };
}

function solverProblems(task: ZoneTask, solved: SolvedZone): Problem[] {
  const { solution } = solved;
  if (solution.status === 'settled') return [];
  return [
    {
      code: solution.status === 'refused' ? 'supply.zone-refused' : 'supply.zone-not-settled',
      severity: 'stop',
      where: { id: task.id },
      params: {
        zone: task.id,
        node: solution.worstNodeId ?? '',
        issues: solution.issues.map(({ code, id }) => `${code} ${id}`.trim()),
        iterationCount: solution.iterations,
      },
    },
  ];
}

function noWayProblems(task: ZoneTask): Problem[] {
  return task.routed.tree.unreached.map((bedId) => {
    const bed = task.group.beds.find((one) => one.bedId === bedId);
    return {
      code: 'supply.no-way-to-bed',
      severity: 'stop',
      where: bed ? { id: bedId, x: bed.layout.stubUp.x, y: bed.layout.stubUp.y } : { id: bedId },
      params: { bed: bed?.name || bedId, zone: task.id },
    };
  });
}

const COMPUTED = {
  text: 'solved: steady state of the whole network, Newton on flows and heads',
  standing: 'ours',
} as const;

function zoneTraces(task: ZoneTask, solved: SolvedZone, requiredM: number): Traced[] {
  return [
    {
      code: 'supply.zone-flow',
      result: { value: solved.flowM3s, unit: 'm3/s' },
      formula: 'flow = sum of the flow of every emitter at its solved pressure',
      inputs: [
        { name: 'emitters', quantity: { value: solved.emitters.headM.length, unit: 'count' } },
        { name: 'rated flow', quantity: { value: task.group.nominalFlowM3s, unit: 'm3/s' } },
      ],
      source: COMPUTED,
    },
    {
      code: 'supply.required-source-head',
      result: { value: requiredM, unit: 'm of head' },
      formula: 'required = head at the connection that brings the emitter worst off to its least head',
      inputs: [
        { name: 'available', quantity: { value: solved.connectionHeadM, unit: 'm of head' } },
        { name: 'worst emitter', quantity: { value: solved.emitterHeadM.min, unit: 'm of head' } },
        { name: 'regulator setting', quantity: { value: task.assembly.regulatedHeadM, unit: 'm of head' } },
      ],
      source: COMPUTED,
    },
  ];
}

/** Sizes, solves and furnishes one zone, in steps; depends on nothing but its task. */
export function* designZoneSteps(plan: Plan, catalog: Catalog, task: ZoneTask): Steps<Zone> {
  const { group, routed } = task;
  const sized = yield* sizeAndSolveSteps(catalog, plumb(plan, catalog, task), group.beds);
  const { solved, network, prepared } = sized;
  const isFinished = task.quality === 'finished' && solved.solution.status === 'settled';
  yield;
  const required = yield* requiredHeadSteps(
    network,
    prepared,
    solved,
    task.assembly,
    isFinished ? undefined : 0,
  );
  yield;
  const flushing = isFinished
    ? yield* flushZoneSteps(
        prepared,
        network.flush,
        setting(plan.settings, 'flushVelocityMs'),
        solved.solution,
      )
    : { flush: [], together: 0, problems: [] };
  yield;
  const pipes = pipesDrawn(sized.plumbing.headers, network.network, solved.solution, 'header');
  const worst = network.emitters[solved.worst.index];
  const beyond: Problem[] = required.isBeyondRegulator
    ? [
        {
          code: 'supply.setting-too-low',
          severity: 'stop',
          where: { id: task.id },
          params: {
            zone: task.id,
            settingHeadM: task.assembly.regulatedHeadM,
            shortHeadM: solved.worst.shortM,
          },
        },
      ]
    : [];
  return {
    id: task.id,
    number: task.number,
    name: [...new Set(group.beds.map(({ name, bedId }) => name || bedId))].join(', '),
    zoneKey: group.zoneKey,
    bedIds: group.beds.map(({ bedId }) => bedId),
    assembly: task.assembly,
    assemblyAt: routed.assemblyAt,
    pipes,
    drawnPipeIds: routed.locked.map(({ id }) => id),
    sleeves: sleevesFor(plan, catalog, task.site, pipes, `${task.id}/sleeve-`),
    devices: zoneDevices({
      catalog,
      routed,
      assemblyId: task.assembly.id,
      headers: sized.plumbing.headers,
      beds: group.beds,
      flush: network.flush,
      checks: sized.plumbing.checks,
    }),
    network: network.network,
    solution: solved.solution,
    emitters: solved.emitters,
    flowM3s: solved.flowM3s,
    emitterHeadM: solved.emitterHeadM,
    emitterFlowM3s: solved.emitterFlowM3s,
    worstEmitter: {
      runId: worst?.runId ?? '',
      distanceM: worst?.distanceM ?? 0,
      x: worst?.at.x ?? 0,
      y: worst?.at.y ?? 0,
      headM: solved.emitters.headM[solved.worst.index] ?? 0,
    },
    emissionUniformity: solved.emissionUniformity,
    distributionUniformity: solved.distributionUniformity,
    statisticalUniformity: solved.statisticalUniformity,
    flush: flushing.flush.map((point) => ({
      ...point,
      meetsAtM: flowsMeetAtM(network, solved.solution, point.runId),
    })),
    flushTogether: flushing.together,
    requiredSourceHeadM: required.headM,
    availableSourceHeadM: solved.connectionHeadM,
    readAt: READ_AT,
    tubing: {
      pieces: network.tubing.flatMap(({ pieces }) => pieces),
      stubUps: network.tubing.map(({ stubNodeId }, index) => ({
        bedId: group.beds[index]!.bedId,
        nodeId: stubNodeId,
      })),
      flush: network.flush.map(({ nodeId, runId, distanceM }) => ({ nodeId, runId, distanceM })),
    },
    drains: routed.drains.map((node, index) => ({
      nodeId: headerNodeId(routed.drains, node),
      deviceId: `${task.id}/drain-point-${index + 1}`,
      at: drainPlace(routed.tree, routed.branches, node),
    })),
    sizingIterations: sized.iterations,
    why: group.why,
    traces: zoneTraces(task, solved, required.headM),
    problems: [
      ...group.problems,
      ...noWayProblems(task),
      ...network.tubing.flatMap(({ problems }) => problems),
      ...solverProblems(task, solved),
      ...beyond,
      ...flushing.problems,
    ],
  };
}
