import type { Assembly } from '../catalog';
import {
  distributionUniformity,
  emissionUniformity,
  type Network,
  type PreparedNetwork,
  type Solution,
  solveFlushing,
  solvePrepared,
  solvePreparedSteps,
  spreadOf,
  statisticalUniformity,
  withFigures,
} from '../hydraulics';
import type { Problem, Steps } from '../units';
import { READ_AT, type ZoneNetwork } from './network';
import type { FlushPlace } from './tubing';
import type { EmitterArrays, FlushResult, Spread } from './types';

/** What solving a zone's network says. */
export interface SolvedZone {
  readonly solution: Solution;
  readonly emitters: EmitterArrays;
  readonly flowM3s: number;
  readonly emitterHeadM: Spread;
  readonly emitterFlowM3s: Spread;
  readonly worst: { readonly index: number; readonly shortM: number };
  readonly emissionUniformity: number;
  readonly distributionUniformity: number;
  readonly statisticalUniformity: number;
  readonly connectionHeadM: number;
}

function collectEmitters(zone: ZoneNetwork, solution: Solution): EmitterArrays {
  const count = zone.emitters.length;
  const runIds = [...new Set(zone.emitters.map(({ runId }) => runId))];
  const runNumber = new Map(runIds.map((runId, index) => [runId, index]));
  const arrays = {
    x: new Float64Array(count),
    y: new Float64Array(count),
    run: new Int32Array(count),
    distanceM: new Float64Array(count),
    headM: new Float64Array(count),
    flowM3s: new Float64Array(count),
    runIds,
  };
  zone.emitters.forEach((emitter, index) => {
    const node = zone.emitterNodes[index]!;
    arrays.x[index] = emitter.at.x;
    arrays.y[index] = emitter.at.y;
    arrays.run[index] = runNumber.get(emitter.runId)!;
    arrays.distanceM[index] = emitter.distanceM;
    arrays.headM[index] = solution.headM[node]! - emitter.elevationM;
    arrays.flowM3s[index] = solution.outflowM3s[node]!;
  });
  return arrays;
}

/** The emitter nearest to (or furthest below) its least head; the first of equals. */
function worstOf(zone: ZoneNetwork, emitters: EmitterArrays): { index: number; shortM: number } {
  let worst = { index: 0, shortM: Number.NEGATIVE_INFINITY };
  emitters.headM.forEach((headM, index) => {
    const shortM = zone.leastHeadM[index]! - headM;
    if (shortM > worst.shortM + 1e-9) worst = { index, shortM };
  });
  return worst;
}

/** Pressure head at a node of a solved network, m; 0 where the node is not there. */
export function pressureAt(network: Network, solution: Solution, nodeId: string): number {
  const at = network.nodes.findIndex(({ id }) => id === nodeId);
  return at < 0 ? 0 : solution.headM[at]! - network.nodes[at]!.elevationM;
}

/**
 * Solves a zone and reads what a designer asks of it.
 *
 * @param prepared the zone's network, or one of its shape, made ready
 * @param variationCv manufacturing variation of the emitters
 */
export function solveZone(
  zone: ZoneNetwork,
  prepared: PreparedNetwork,
  variationCv: number,
  warm?: Solution,
): SolvedZone {
  return readZone(zone, solvePrepared(prepared, warm), variationCv);
}

/** As `solveZone`, in steps; nothing of the network's room is left in it between them. */
export function* solveZoneSteps(
  zone: ZoneNetwork,
  prepared: PreparedNetwork,
  variationCv: number,
  warm?: Solution,
): Steps<SolvedZone> {
  return readZone(zone, yield* solvePreparedSteps(prepared, warm), variationCv);
}

function readZone(zone: ZoneNetwork, solution: Solution, variationCv: number): SolvedZone {
  const emitters = collectEmitters(zone, solution);
  const flows = emitters.flowM3s;
  return {
    solution,
    emitters,
    flowM3s: flows.reduce((sum, flow) => sum + flow, 0),
    emitterHeadM: spreadOf(emitters.headM),
    emitterFlowM3s: spreadOf(flows),
    worst: worstOf(zone, emitters),
    emissionUniformity: emissionUniformity(flows, variationCv),
    distributionUniformity: distributionUniformity(flows),
    statisticalUniformity: statisticalUniformity(flows, variationCv),
    connectionHeadM: pressureAt(zone.network, solution, READ_AT.connection),
  };
}

const MOST_TRIALS = 12;
const HEAD_FOUND_M = 0.01;

function withSourceHead(network: Network, headM: number): Network {
  return {
    ...network,
    nodes: network.nodes.map((node) =>
      node.fixedHeadM === undefined ? node : { ...node, fixedHeadM: node.elevationM + headM },
    ),
  };
}

/**
 * Head at the connection that just brings the emitter worst off to its least head, at the flow that then runs. Found by
 * lowering or raising the source until the shortfall is nothing (secant, bounded; 1 cm). Where the regulator's setting
 * itself keeps the emitter short, no source helps: `isBeyondRegulator`.
 *
 * @param mostTrials networks solved at the most; 0 gives the first estimate, which a preview shows
 */
export function* requiredHeadSteps(
  zone: ZoneNetwork,
  prepared: PreparedNetwork,
  solved: SolvedZone,
  assembly: Assembly,
  mostTrials = MOST_TRIALS,
): Steps<{ headM: number; isBeyondRegulator: boolean; trials: number }> {
  const source = zone.network.nodes.find(({ fixedHeadM }) => fixedHeadM !== undefined);
  if (!source || zone.emitters.length === 0 || solved.solution.status !== 'settled') {
    return { headM: solved.connectionHeadM, isBeyondRegulator: false, trials: 0 };
  }
  const inletM = pressureAt(zone.network, solved.solution, READ_AT.regulatorInlet);
  const outletM = pressureAt(zone.network, solved.solution, READ_AT.afterRegulator);
  const gapM = assembly.regulatorMinInletHeadM - assembly.regulatedHeadM;
  const isActive = zone.network.links.some(
    (link, index) => link.kind === 'regulator' && solved.solution.state[index] === 'active',
  );
  if (isActive && solved.worst.shortM > HEAD_FOUND_M) {
    return { headM: solved.connectionHeadM + solved.worst.shortM, isBeyondRegulator: true, trials: 0 };
  }
  const startM = source.fixedHeadM! - source.elevationM;
  let before = { headM: startM, shortM: solved.worst.shortM };
  let tryM = startM + solved.worst.shortM - (isActive ? inletM - outletM - gapM : 0);
  let last = solved;
  let trials = 0;
  let connectionM = solved.connectionHeadM + tryM - startM;
  while (trials < mostTrials) {
    trials++;
    const trial = withFigures(prepared, withSourceHead(zone.network, Math.max(0.5, tryM)));
    const answer = yield* solveZoneSteps(zone, trial, 0, last.solution);
    yield;
    if (answer.solution.status !== 'settled') break;
    connectionM = answer.connectionHeadM;
    last = answer;
    const shortM = answer.worst.shortM;
    if (Math.abs(shortM) <= HEAD_FOUND_M) break;
    const slope = (before.shortM - shortM) / (before.headM - tryM || 1);
    const steepness = slope < -0.2 && slope > -5 ? slope : -1;
    before = { headM: tryM, shortM };
    tryM -= shortM / steepness;
  }
  return { headM: connectionM, isBeyondRegulator: false, trials };
}

/** Loss of an open manual flush valve, as K on the velocity head of the tubing (from memory). */
export const FLUSH_VALVE_K = 2;

type FlushedAt = Omit<FlushResult, 'meetsAtM'>;

/** Points opened at once, each with the slowest of its legs; null where the network does not settle. */
function openAtOnce(
  prepared: PreparedNetwork,
  places: readonly FlushPlace[],
  wantedMs: number,
  warm: Solution,
): FlushedAt[] | null {
  const states = solveFlushing(
    prepared,
    places.map(({ nodeId, insideDiameterM }) => ({
      nodeId,
      outletDiameterM: insideDiameterM,
      outletLossK: FLUSH_VALVE_K,
    })),
    warm,
  );
  if (states.some(({ solution }) => solution.status !== 'settled')) return null;
  return places.map((place, index) => ({
    at: place.at,
    runId: place.runId,
    distanceM: place.distanceM,
    flowM3s: states[index]!.flowM3s,
    endVelocityMs: states[index]!.endVelocityMs,
    ok: states[index]!.endVelocityMs >= wantedMs - 1e-9,
  }));
}

/**
 * Each flush point opened alone with the zone running, both legs read; and how many may be open at once with every leg
 * still fast enough (the first so many, found by halving).
 *
 * Source of the speed: University of California ANR, 1 ft/s at the end of each line.
 */
export function* flushZoneSteps(
  prepared: PreparedNetwork,
  places: readonly FlushPlace[],
  wantedMs: number,
  warm: Solution,
): Steps<{ flush: FlushedAt[]; together: number; problems: Problem[] }> {
  const alone: (FlushedAt | null)[] = [];
  for (const place of places) {
    alone.push(openAtOnce(prepared, [place], wantedMs, warm)?.[0] ?? null);
    yield;
  }
  const problems = alone.flatMap((result, index): Problem[] => {
    const { at, runId } = places[index]!;
    return result === null
      ? [
          {
            code: 'supply.flush-not-settled',
            severity: 'warn',
            where: { x: at.x, y: at.y },
            params: { run: runId },
          },
        ]
      : [];
  });
  const flush = alone.filter((result) => result !== null);
  const passing = places.filter((_, index) => alone[index]?.ok);
  let low = Math.min(1, passing.length);
  let high = passing.length;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    const results = openAtOnce(prepared, passing.slice(0, middle), wantedMs, warm);
    yield;
    if (results?.every(({ ok }) => ok)) low = middle;
    else high = middle - 1;
  }
  return { flush, together: low, problems };
}
