import { typicalCatalog } from '../../../src/core/catalog';
import type { PlanPoint } from '../../../src/core/geometry';
import type { BedLayout, Join, Run } from '../../../src/core/layout';
import type { HeaderPipe, SupplyDesign, Zone } from '../../../src/core/supply';
import type { CountedBed } from '../../../src/core/takeoff';

/** Straight length of a chain of points, written apart from the program's own. */
export const lengthOf = (path: readonly PlanPoint[]): number =>
  path.slice(1).reduce((sum, p, i) => sum + Math.sqrt((p.x - path[i]!.x) ** 2 + (p.y - path[i]!.y) ** 2), 0);

export function run(id: string, path: readonly PlanPoint[], more: Partial<Run> = {}): Run {
  const first = path[0]!;
  const last = path.at(-1)!;
  return {
    id,
    role: 'loop',
    closed: first.x === last.x && first.y === last.y,
    path,
    lengthM: lengthOf(path),
    emittersM: [0.15],
    startsAt: first,
    flushAtM: lengthOf(path) / 2,
    minBendRadiusM: 0.127,
    straightFraction: 0.9,
    turns: 4,
    ...more,
  };
}

export function layout(bedId: string, runs: readonly Run[], joins: readonly Join[]): BedLayout {
  return {
    bedId,
    status: 'routed',
    areaM2: 14,
    usable: [],
    usableAreaM2: 12,
    outline: [],
    layout: 'loop',
    nominalRowSpacingM: 0.4572,
    rowSpacingM: 0.4572,
    directionRad: 0,
    stubUp: { x: 0, y: 0 },
    runs,
    joins,
    coverage: { coveredRatio: 1, maxGapM: 0, gaps: [], worstPhaseOverlapRatio: 1 },
    chosen: '',
    alternatives: [],
    ruleOfThumbLengthM: 30,
    memory: null,
    problems: [],
    verified: {
      passed: true,
      crossings: 0,
      worstClearanceM: 0,
      separationM: 0,
      minBendRadiusM: 0,
      closed: true,
      failures: [],
    },
  };
}

export function bed(id: string, runs: readonly Run[], joins: readonly Join[], soil = 'loam'): CountedBed {
  const dripline = typicalCatalog.driplines.find((part) => part.id === 'dripline-pc-0.4gph-12in')!;
  return { id, name: id, dripline, layout: layout(id, runs, joins), soil };
}

export const noSupply: SupplyDesign = {
  zones: [],
  main: [],
  sleeves: [],
  crossings: [],
  devices: [],
  backflow: null,
  wires: [],
  sourceCurve: [],
  usableFlowM3s: null,
  blocked: [],
  problems: [],
  traces: [],
};

export function header(id: string, path: readonly PlanPoint[], pipeId = 'pvc-sch40-3.4'): HeaderPipe {
  return {
    id,
    role: 'header',
    path,
    lengthM: lengthOf(path),
    pipe: typicalCatalog.pipes.find((pipe) => pipe.id === pipeId)!,
    depthM: 0.3,
    flowM3s: 0,
    velocityMs: 0,
    headlossM: 0,
    locked: false,
  };
}

const spread = { min: 0, mean: 0, max: 0, lowQuarterMean: 0 };
export function zone(number: number, bedIds: readonly string[], pipes: readonly HeaderPipe[]): Zone {
  return {
    id: `zone-${number}`,
    number,
    name: '',
    zoneKey: null,
    bedIds,
    assembly: typicalCatalog.assemblies[0]!,
    assemblyAt: { x: 0, y: 0 },
    pipes,
    drawnPipeIds: [],
    sleeves: [],
    devices: [],
    network: { nodes: [], links: [], kinematicViscosityM2s: 1e-6 },
    solution: {
      status: 'settled',
      iterations: 0,
      worstResidualM3s: 0,
      worstNodeId: null,
      headM: new Float64Array(),
      outflowM3s: new Float64Array(),
      flowM3s: new Float64Array(),
      velocityMs: new Float64Array(),
      headlossM: new Float64Array(),
      state: [],
      issues: [],
    },
    emitters: {
      x: new Float64Array(),
      y: new Float64Array(),
      run: new Int32Array(),
      distanceM: new Float64Array(),
      headM: new Float64Array(),
      flowM3s: new Float64Array(),
      runIds: [],
    },
    flowM3s: 1e-4,
    emitterHeadM: spread,
    emitterFlowM3s: spread,
    worstEmitter: { runId: '', distanceM: 0, x: 0, y: 0, headM: 0 },
    emissionUniformity: 1,
    distributionUniformity: 1,
    statisticalUniformity: 1,
    flush: [],
    flushTogether: 1,
    drains: [],
    requiredSourceHeadM: 0,
    availableSourceHeadM: 0,
    readAt: { afterRegulator: '', regulatorInlet: '', connection: '' },
    tubing: { pieces: [], stubUps: [], flush: [] },
    sizingIterations: 0,
    why: [],
    traces: [],
    problems: [],
  };
}
