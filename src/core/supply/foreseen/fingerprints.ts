import type { Catalog } from '../../catalog';
import type { BedLayout } from '../../layout';
import { allSteps, HEAD_M_PER_PSI, type Steps } from '../../units';
import type { Zone } from '../types';
import { type FaultCode, faultsOf } from './faults';
import { beginTrial } from './zoneTrial';

/** A place where a gauge can be put on. */
export interface TestPoint {
  readonly kind: 'connection' | 'regulator-inlet' | 'regulator-outlet' | 'stub-up' | 'flush';
  readonly nodeId: string;
  /** The run of a flush point, the bed of a stub-up; null elsewhere. */
  readonly ofId: string | null;
}

/** One fault and the pressures it would show, m, along the fingerprints' points. */
export interface Fingerprint {
  readonly code: FaultCode;
  readonly runId: string | null;
  readonly alongM: number | null;
  readonly amount: number | null;
  readonly headM: readonly number[];
}

/** Every single fault of a zone solved beforehand, and the two places that tell them apart best. */
export interface FaultFingerprints {
  readonly zoneId: string;
  readonly zoneNumber: number;
  readonly points: readonly TestPoint[];
  /** As drawn, along `points`. */
  readonly soundHeadM: readonly number[];
  readonly faults: readonly Fingerprint[];
  /** Positions in `points`: the best place first. */
  readonly best: readonly number[];
  /** Share of all pairs of states (sound among them) told apart by one and by both best places. */
  readonly toldApartRatio: readonly number[];
  /** Faults that did not settle: listed, not guessed. */
  readonly unsolved: readonly { readonly code: FaultCode; readonly runId: string | null }[];
}

/** Two readings differ when they are further apart than this, m, or than a tenth. Common practice, no source: 2 psi. */
const LEAST_DIFFERENCE_M = 2 * HEAD_M_PER_PSI;
const DIFFERENCE_RATIO = 0.1;

/** Whether a crew's gauge tells two pressures apart. */
export function differ(oneM: number, otherM: number): boolean {
  const most = Math.max(Math.abs(oneM), Math.abs(otherM));
  return Math.abs(oneM - otherM) > Math.max(LEAST_DIFFERENCE_M, DIFFERENCE_RATIO * most);
}

function testPoints(zone: Zone): TestPoint[] {
  const { readAt, tubing } = zone;
  const points: TestPoint[] = [
    { kind: 'regulator-outlet', nodeId: readAt.afterRegulator, ofId: null },
    { kind: 'regulator-inlet', nodeId: readAt.regulatorInlet, ofId: null },
    { kind: 'connection', nodeId: readAt.connection, ofId: null },
    ...tubing.flush.map(({ nodeId, runId }) => ({ kind: 'flush' as const, nodeId, ofId: runId })),
    ...tubing.stubUps.map(({ nodeId, bedId }) => ({ kind: 'stub-up' as const, nodeId, ofId: bedId })),
  ];
  const known = new Set(zone.network.nodes.map(({ id }) => id));
  return points.filter(
    ({ nodeId }, index) =>
      known.has(nodeId) && points.findIndex((other) => other.nodeId === nodeId) === index,
  );
}

/**
 * Solves every single fault of a zone and picks, greedily, the two places where a gauge tells most of them apart.
 *
 * @param layouts of the zone's beds, for turns and joins
 * @returns null where the zone was not solved or is too large to be tried out
 */
export function faultFingerprints(
  zone: Zone,
  catalog: Catalog,
  layouts: readonly BedLayout[],
): FaultFingerprints | null {
  return allSteps(faultFingerprintSteps(zone, catalog, layouts));
}

/** As `faultFingerprints`, one fault a step; one that starves the zone takes more. */
export function* faultFingerprintSteps(
  zone: Zone,
  catalog: Catalog,
  layouts: readonly BedLayout[],
): Steps<FaultFingerprints | null> {
  const trial = beginTrial(zone);
  if (trial === null) return null;
  const sound = yield* trial.read(zone.network);
  if (sound === null) return null;
  const points = testPoints(zone);
  const headsOf = (reading: typeof sound): number[] =>
    points.map(({ nodeId }) => trial.headAt(reading, nodeId));
  const faults: Fingerprint[] = [];
  const unsolved: { code: FaultCode; runId: string | null }[] = [];
  for (const { network, outlets, ...fault } of faultsOf(zone, catalog, layouts)) {
    const reading = yield* trial.read(network, outlets);
    if (reading === null) unsolved.push({ code: fault.code, runId: fault.runId });
    else faults.push({ ...fault, headM: headsOf(reading) });
    yield;
  }
  const soundHeadM = headsOf(sound);
  return {
    zoneId: zone.id,
    zoneNumber: zone.number,
    points,
    soundHeadM,
    faults,
    unsolved,
    ...chooseBest([soundHeadM, ...faults.map(({ headM }) => headM)], points.length),
  };
}

/** Greedy: the place that tells most pairs apart, then the one that tells most of the rest; ties to the easier place. */
function chooseBest(
  states: readonly (readonly number[])[],
  pointCount: number,
): { best: number[]; toldApartRatio: number[] } {
  let pairs: [number, number][] = [];
  for (let a = 0; a < states.length; a++) for (let b = a + 1; b < states.length; b++) pairs.push([a, b]);
  const all = pairs.length;
  const best: number[] = [];
  const toldApartRatio: number[] = [];
  while (best.length < 2 && best.length < pointCount) {
    let chosen = -1;
    let most = -1;
    for (let point = 0; point < pointCount; point++) {
      if (best.includes(point)) continue;
      const told = pairs.filter(([a, b]) => differ(states[a]![point]!, states[b]![point]!)).length;
      if (told > most) {
        most = told;
        chosen = point;
      }
    }
    best.push(chosen);
    pairs = pairs.filter(([a, b]) => !differ(states[a]![chosen]!, states[b]![chosen]!));
    toldApartRatio.push(all === 0 ? 1 : 1 - pairs.length / all);
  }
  return { best, toldApartRatio };
}

/** One fault as it explains readings: the greatest miss, in units of what a gauge tells apart; below 1 it fits. */
export interface RankedFault {
  readonly fault: Fingerprint;
  readonly missRatio: number;
}

/**
 * Faults that fit what was read, best first; empty where the zone as drawn fits.
 *
 * @param readings pressure heads by position in `points`; at least one
 */
export function rankFaults(prints: FaultFingerprints, readings: ReadonlyMap<number, number>): RankedFault[] {
  const missOf = (headM: readonly number[]): number => {
    let worst = 0;
    for (const [point, readM] of readings) {
      const predictedM = headM[point]!;
      const allowedM = Math.max(
        LEAST_DIFFERENCE_M,
        DIFFERENCE_RATIO * Math.max(Math.abs(predictedM), Math.abs(readM)),
      );
      worst = Math.max(worst, Math.abs(predictedM - readM) / allowedM);
    }
    return worst;
  };
  if (missOf(prints.soundHeadM) <= 1) return [];
  return prints.faults
    .map((fault) => ({ fault, missRatio: missOf(fault.headM) }))
    .filter(({ missRatio }) => missRatio <= 1)
    .sort((a, b) => a.missRatio - b.missRatio);
}
