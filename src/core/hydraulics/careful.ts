import type { Steps } from '../units';
import { assembleEmitters, assembleOpenLinks, evaluateLinks, LEAST_GRADIENT, startSystem } from './assemble';
import { evaluateEmitters } from './emitters';
import { carryBack, factorAndCarry } from './factor';
import type { Figures } from './figures';
import { updateStates } from './regulators';
import type { Topology } from './topology';
import { ACTIVE, OPEN, type Work } from './work';

const MOST_ROUNDS = 40;
const MOST_STEPS = 150;
const MOST_TRIALS = 40;
const MOST_SWEEPS = 200;
const BALANCED_RATIO = 1e-10;
const BALANCED_M3S = 1e-13;
/** Droop lent to regulators while the search runs, m per m3/s; the quick search afterwards takes it back. */
const LENT_DROOP = 1;

/**
 * Brings a network near its solution where the quick search does not settle: starved zones whose emitters start and
 * stop, heads near nothing, regulators that change their mind. Slower, and sure: with the states of regulators held, the
 * heads are those of least co-content, a convex function of them whose slope is the imbalance of each junction, so a
 * Newton step shortened along it always descends. States, and what active regulators draw, are brought up to date
 * between rounds.
 * Source: content and co-content of networks, Collins et al. (1978).
 *
 * @returns one Newton step a step; in the end whether every junction balances, in the states that the heads ask for
 */
export function* searchCarefully(topology: Topology, figures: Figures, work: Work): Steps<boolean> {
  const { regulators } = figures;
  const drawn = regulators.map(({ link }) => Math.max(0, work.flowM3s[link]!));
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const isBalanced = yield* descend(topology, figures, work, drawn);
    let isDrawn = true;
    regulators.forEach(({ link }, r) => {
      const flow = work.state[link] === ACTIVE ? work.flowM3s[link]! : 0;
      if (Math.abs(flow - drawn[r]!) > BALANCED_RATIO * Math.abs(flow) + BALANCED_M3S) isDrawn = false;
      drawn[r] = flow;
    });
    if (isDrawn && updateStates(topology, figures, work) === 0) return isBalanced;
  }
  return false;
}

/** Newton steps with a line search on the co-content, states and draws held. */
function* descend(
  topology: Topology,
  figures: Figures,
  work: Work,
  drawn: readonly number[],
): Steps<boolean> {
  const { unknownCount, pattern } = topology;
  const start = new Float64Array(unknownCount);
  const direction = new Float64Array(unknownCount);
  const push = new Float64Array(unknownCount);
  /** Slope of the co-content along the direction, turned: positive while it still descends. */
  const pushAlong = (): number => {
    let sum = 0;
    for (let i = 0; i < unknownCount; i++) sum += push[i]! * direction[i]!;
    return sum;
  };
  const layOut = () => {
    settleFlows(topology, figures, work);
    layOutBalances(topology, figures, work, drawn);
    push.set(work.step.subarray(0, unknownCount));
  };
  layOut();
  for (let step = 0; step < MOST_STEPS; step++) {
    if (areBalanced(push, work)) return true;
    factorAndCarry(pattern, work.diagonal, work.lower, work.step);
    carryBack(pattern, work.lower, work.step);
    direction.set(work.step.subarray(0, unknownCount));
    start.set(work.headM.subarray(0, unknownCount));
    const first = pushAlong();
    if (!(first > 0)) return false;
    let low = 0;
    let high = 1;
    let share = 1;
    for (let trial = 0; trial < MOST_TRIALS; trial++) {
      for (let i = 0; i < unknownCount; i++) work.headM[i] = start[i]! + share * direction[i]!;
      layOut();
      const now = pushAlong();
      if (now >= -0.5 * first && (share === 1 || now <= 0.5 * first)) break;
      if (now < 0) high = share;
      else low = share;
      share = (low + high) / 2;
    }
    yield;
  }
  return areBalanced(push, work);
}

function areBalanced(push: Float64Array, work: Work): boolean {
  let most = 0;
  for (const flow of work.flowM3s) most = Math.max(most, Math.abs(flow));
  const allowed = Math.max(BALANCED_M3S, BALANCED_RATIO * most);
  return push.every((lack) => Math.abs(lack) <= allowed);
}

/** The system at the heads and flows as they stand, with active regulators as held heads behind a small droop. */
function layOutBalances(topology: Topology, figures: Figures, work: Work, drawn: readonly number[]): void {
  evaluateSoftened(figures, work);
  startSystem(topology, figures, work);
  assembleOpenLinks(topology, work);
  figures.regulators.forEach(({ link, droop, setTotalHeadM }, r) => {
    if (work.state[link] !== ACTIVE) return;
    const outlet = topology.to[link]!;
    const inlet = topology.from[link]!;
    const conductance = 1 / Math.max(droop, LENT_DROOP);
    const flow = (setTotalHeadM - work.headM[outlet]!) * conductance;
    work.flowM3s[link] = flow;
    work.diagonal[outlet] = work.diagonal[outlet]! + conductance;
    work.step[outlet] = work.step[outlet]! + flow;
    work.step[inlet] = work.step[inlet]! - drawn[r]!;
  });
  evaluateEmitters(figures.emitters, work.headM, work.emitterFlow, work.emitterSlope);
  assembleEmitters(topology, figures, work);
}

/** Every law with a trace of plain resistance, so that each can be turned round. */
function evaluateSoftened(figures: Figures, work: Work, isDone?: Uint8Array): void {
  evaluateLinks(figures, work, isDone);
  const { lossM, gradient, flowM3s } = work;
  for (let i = 0; i < lossM.length; i++) {
    if (isDone?.[i] === 1) continue;
    lossM[i] = lossM[i]! + LEAST_GRADIENT * flowM3s[i]!;
    gradient[i] = gradient[i]! + LEAST_GRADIENT;
  }
}

/**
 * Flow of every open link at the heads as they stand: the laws turned round, by Newton inside a bracket, all links
 * sweep by sweep.
 */
function settleFlows(topology: Topology, figures: Figures, work: Work): void {
  const { from, to } = topology;
  const { flowM3s, lossM, gradient, headM, state } = work;
  const count = from.length;
  const low = new Float64Array(count);
  const high = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  const isDone = new Uint8Array(count);
  let left = 0;
  for (let i = 0; i < count; i++) {
    if (state[i] !== OPEN || headM[from[i]!] === headM[to[i]!]) {
      isDone[i] = 1;
      if (state[i] !== ACTIVE) flowM3s[i] = 0;
      continue;
    }
    flowM3s[i] = Math.max(Math.abs(flowM3s[i]!), 1e-9);
    left++;
  }
  for (let sweep = 0; left > 0 && sweep < MOST_SWEEPS; sweep++) {
    evaluateSoftened(figures, work, isDone);
    for (let i = 0; i < count; i++) {
      if (isDone[i]) continue;
      const wanted = Math.abs(headM[from[i]!]! - headM[to[i]!]!);
      const excess = lossM[i]! - wanted;
      const q = flowM3s[i]!;
      if (excess > 0) high[i] = q;
      else low[i] = q;
      const newton = q - excess / gradient[i]!;
      const isInside = newton > low[i]! && newton < high[i]!;
      const next = isInside
        ? newton
        : high[i] === Number.POSITIVE_INFINITY
          ? 4 * q
          : (low[i]! + high[i]!) / 2;
      if (Math.abs(excess) <= 1e-13 * wanted + 1e-14 || Math.abs(next - q) <= 1e-15 * q) {
        isDone[i] = 1;
        left--;
      } else flowM3s[i] = next;
    }
  }
  for (let i = 0; i < count; i++)
    if (state[i] === OPEN && headM[from[i]!]! < headM[to[i]!]!) flowM3s[i] = -Math.abs(flowM3s[i]!);
}
