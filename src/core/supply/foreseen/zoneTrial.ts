import {
  deviceHeadM,
  emissionUniformity,
  type Network,
  type Outlet,
  type PreparedNetwork,
  prepareNetwork,
  type Solution,
  solvePreparedSteps,
  withFigures,
} from '../../hydraulics';
import type { Steps } from '../../units';
import type { Zone } from '../types';

/** What a crew or a checker would read of a zone that is not quite as drawn. Heads are pressure heads, m. */
export interface TrialReading {
  readonly solution: Solution;
  /** Head of the emitter nearest to (or furthest below) its least head, less that least head. */
  readonly leastMarginM: number;
  readonly regulatorInletM: number;
  readonly emissionUniformity: number;
  /** Along the zone's emitters, in the order of the network's nodes. */
  readonly flowM3s: Float64Array;
}

/** A zone made ready to be solved again and again with one thing changed. */
export interface ZoneTrial {
  readonly zone: Zone;
  readonly prepared: PreparedNetwork;
  /** Solves the zone's network with other figures, the same shape, in steps. Null where it does not settle. */
  readonly read: (network: Network, outlets?: readonly Outlet[]) => Steps<TrialReading | null>;
  /** Pressure head at a node, m. Fails: throws for a node that is not there. */
  readonly headAt: (reading: TrialReading, nodeId: string) => number;
  readonly variationCv: number;
}

/** Places to solve above which a zone is not tried out: hundreds of solves of it would hold up its sheet for many minutes. */
const MOST_PLACES = 4_000;

/** Is a zone too large to be solved hundreds of times? */
export const isTooLargeToTry = (zone: Zone): boolean => zone.network.nodes.length > MOST_PLACES;

/** Null where the zone itself could not be solved, or is too large to be solved hundreds of times: nothing is foreseen of it. */
export function beginTrial(zone: Zone): ZoneTrial | null {
  const { network } = zone;
  if (zone.solution.status !== 'settled' || isTooLargeToTry(zone)) return null;
  const prepared = prepareNetwork(network);
  if (prepared.topology === null) return null;
  const nodeIndex = new Map(network.nodes.map(({ id }, index) => [id, index]));
  const emitters = network.nodes.flatMap(({ emitter }, index) => (emitter ? [{ emitter, index }] : []));
  const variationCv = Math.max(0, ...emitters.map(({ emitter }) => emitter.variationCv));
  const inlet = nodeIndex.get(zone.readAt.regulatorInlet);
  const pressure = (solution: Solution, index: number): number =>
    solution.headM[index]! - network.nodes[index]!.elevationM;
  let warm: Solution = zone.solution;
  return {
    zone,
    prepared,
    variationCv,
    headAt: ({ solution }, nodeId) => {
      const index = nodeIndex.get(nodeId);
      if (index === undefined) throw new Error(`no node ${nodeId}`);
      return pressure(solution, index);
    },
    *read(altered, outlets = []) {
      const solution = yield* solvePreparedSteps(withFigures(prepared, altered, outlets), warm);
      if (solution.status !== 'settled') return null;
      warm = solution;
      const flowM3s = Float64Array.from(emitters, ({ index }) => solution.outflowM3s[index]!);
      return {
        solution,
        leastMarginM: emitters.reduce(
          (least, { emitter, index }) => Math.min(least, pressure(solution, index) - emitter.minHeadM),
          Number.POSITIVE_INFINITY,
        ),
        regulatorInletM: inlet === undefined ? Number.POSITIVE_INFINITY : pressure(solution, inlet),
        emissionUniformity: emissionUniformity(flowM3s, variationCv),
        flowM3s,
      };
    },
  };
}

/** The network with its source standing at another pressure head with nothing flowing, m. */
export function withStaticHead(network: Network, staticHeadM: number): Network {
  const nodes = network.nodes.map((node) =>
    node.fixedHeadM === undefined ? node : { ...node, fixedHeadM: node.elevationM + staticHeadM },
  );
  return { ...network, nodes };
}

/** Pressure head of the zone's source with nothing flowing, m. */
export function staticHeadOf(network: Network): number {
  const source = network.nodes.find(({ fixedHeadM }) => fixedHeadM !== undefined);
  if (source?.fixedHeadM === undefined) throw new Error('a zone network without a source');
  return source.fixedHeadM - source.elevationM;
}

/** The network with its filter part of the way, 0 (clean) to 1 (loaded), to the loss at which it must be cleaned. */
export function withFilterLoaded(zone: Zone, network: Network, loadedRatio: number): Network {
  const { filterLossClean: clean, filterLossLoaded: loaded } = zone.assembly;
  if (loadedRatio === 0) return network;
  const links = network.links.map((link) => {
    if (link.kind !== 'device' || link.device !== 'filter') return link;
    if (loadedRatio === 1) return { ...link, loss: loaded };
    if (clean.kind === 'quadratic' && loaded.kind === 'quadratic') {
      const between = (a: number, b: number): number => a + loadedRatio * (b - a);
      const loss = {
        kind: 'quadratic' as const,
        kSI: between(clean.kSI, loaded.kSI),
        offsetM: between(clean.offsetM, loaded.offsetM),
      };
      return { ...link, loss };
    }
    const flows = [0.25, 0.5, 0.75, 1, 1.25].map((share) => share * zone.flowM3s);
    const points = flows.map((flowM3s) => ({
      flowM3s,
      headM: (1 - loadedRatio) * deviceHeadM(clean, flowM3s) + loadedRatio * deviceHeadM(loaded, flowM3s),
    }));
    return { ...link, loss: { kind: 'points' as const, points: [{ flowM3s: 0, headM: 0 }, ...points] } };
  });
  return { ...network, links };
}
