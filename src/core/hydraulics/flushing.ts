import type { EmitterLaw } from '../catalog';
import { allSteps, STANDARD_GRAVITY_MS2, type Steps } from '../units';
import { emitterFlowM3s } from './emitters';
import type { Outlet } from './figures';
import { type PreparedNetwork, withFigures } from './prepare';
import { solvePreparedSteps } from './solve';
import type { Solution } from './types';

/** A place where a run can be opened to flush it. */
export interface FlushPoint {
  readonly nodeId: string;
  /** Bore of the open outlet. */
  readonly outletDiameterM: number;
  /** K of the outlet's fittings, beyond the velocity head that is lost in the open. */
  readonly outletLossK: number;
}

/** One pipe that leads to a flush point. */
export interface FlushLeg {
  readonly linkId: string;
  /** Towards the flush point; 0 where the leg carries water away from it. */
  readonly velocityMs: number;
}

/** One flush point standing open. */
export interface FlushState {
  readonly nodeId: string;
  /** Flow out of the open end. */
  readonly flowM3s: number;
  readonly legs: readonly FlushLeg[];
  /** Slowest of the legs. */
  readonly endVelocityMs: number;
  readonly solution: Solution;
}

/**
 * An open end as an outlet law: q = A sqrt(2 g h / (1 + K)).
 * Source: energy equation, the velocity head lost on leaving.
 */
export function openOutletLaw(point: Pick<FlushPoint, 'outletDiameterM' | 'outletLossK'>): EmitterLaw {
  const areaM2 = (Math.PI * point.outletDiameterM ** 2) / 4;
  return {
    kind: 'power',
    nominalFlowM3s: areaM2 * Math.sqrt((2 * STANDARD_GRAVITY_MS2) / (1 + point.outletLossK)),
    nominalHeadM: 1,
    exponent: 0.5,
    variationCv: 0,
    minHeadM: 0,
    maxHeadM: Number.MAX_VALUE,
  };
}

/** The network with the given points opened at once, solved: what each lets out, and how fast each leg runs to it. */
export function solveFlushing(
  prepared: PreparedNetwork,
  points: readonly FlushPoint[],
  warm?: Solution,
): readonly FlushState[] {
  return allSteps(solveFlushingSteps(prepared, points, warm));
}

/** As `solveFlushing`, in the steps of `solvePreparedSteps`. */
export function* solveFlushingSteps(
  prepared: PreparedNetwork,
  points: readonly FlushPoint[],
  warm?: Solution,
): Steps<readonly FlushState[]> {
  const { network } = prepared;
  const outlets: Outlet[] = points.map((point) => ({ nodeId: point.nodeId, law: openOutletLaw(point) }));
  const solution = yield* solvePreparedSteps(withFigures(prepared, network, outlets), warm);
  return points.map((point) => {
    const node = network.nodes.findIndex((candidate) => candidate.id === point.nodeId);
    if (node < 0) throw new Error(`no node ${point.nodeId} to flush`);
    const legs: FlushLeg[] = [];
    network.links.forEach((link, i) => {
      if (link.from !== point.nodeId && link.to !== point.nodeId) return;
      const inward = link.to === point.nodeId ? solution.flowM3s[i]! : -solution.flowM3s[i]!;
      legs.push({ linkId: link.id, velocityMs: inward > 0 ? solution.velocityMs[i]! : 0 });
    });
    const pressureM = solution.headM[node]! - network.nodes[node]!.elevationM;
    return {
      nodeId: point.nodeId,
      flowM3s: solution.status === 'refused' ? 0 : emitterFlowM3s(openOutletLaw(point), pressureM),
      legs,
      endVelocityMs: legs.length === 0 ? 0 : Math.min(...legs.map((leg) => leg.velocityMs)),
      solution,
    };
  });
}

/**
 * How many flush points may stand open at once with every leg still at the wanted velocity, the slowest points tried
 * together first; 0 where even one alone is too slow.
 *
 * @param wantedVelocityMs 0.3 m/s (1 ft/s) at the open end. Source: University of California ANR, Maintenance of
 *   Microirrigation Systems
 */
export function flushTogether(
  prepared: PreparedNetwork,
  points: readonly FlushPoint[],
  wantedVelocityMs: number,
): number {
  const alone = points.map((point) => ({
    point,
    velocityMs: solveFlushing(prepared, [point])[0]!.endVelocityMs,
  }));
  const slowestFirst = alone
    .toSorted((a, b) => a.velocityMs - b.velocityMs || (a.point.nodeId < b.point.nodeId ? -1 : 1))
    .map(({ point }) => point);
  const doesHold = (count: number) =>
    solveFlushing(prepared, slowestFirst.slice(0, count)).every(
      (state) => state.solution.status === 'settled' && state.endVelocityMs >= wantedVelocityMs,
    );
  let together = 0;
  while (together < points.length && doesHold(together + 1)) together++;
  return together;
}
