import { evaluateCurve, type LossAt } from './curves';
import type { Figures, RegulatorLink } from './figures';
import type { Topology } from './topology';
import { ACTIVE, CLOSED, OPEN, type Work } from './work';

const HEAD_TOLERANCE_M = 1e-6;
const BACKFLOW_TOLERANCE_M3S = 1e-10;
/** Least droop the equations see, m per m3/s; it speeds no result and moves none, for it acts on the step alone. */
const LEAST_DROOP = 1e-3;

/** What a regulator standing open takes: its own loss, and never less than the gap between least inlet and setting. */
export function openRegulatorLoss(regulator: RegulatorLink, flowM3s: number): LossAt {
  const own = evaluateCurve(regulator.openLaw, flowM3s);
  const gap = evaluateCurve({ kind: 'offset-power', offsetM: regulator.gapM, k: 0, exponent: 2 }, flowM3s);
  return Math.abs(own.lossM) >= Math.abs(gap.lossM) ? own : gap;
}

/** An active regulator: a held head at its outlet, falling with flow by its droop; its inlet gives what the outlet took. */
export function assembleRegulators(topology: Topology, figures: Figures, work: Work): void {
  for (const { link, setTotalHeadM, droop } of figures.regulators) {
    if (work.state[link] !== ACTIVE) continue;
    const a = topology.from[link]!;
    const b = topology.to[link]!;
    const flow = work.flowM3s[link]!;
    const conductance = 1 / Math.max(droop, LEAST_DROOP);
    const q = flow + (setTotalHeadM - work.headM[b]! - droop * flow) * conductance;
    work.expected[link] = q;
    work.gradient[link] = conductance;
    work.diagonal[b] = work.diagonal[b]! + conductance;
    work.step[b] = work.step[b]! + q;
    work.step[a] = work.step[a]! - q;
  }
}

/**
 * Puts the outlet of every active regulator at the head it holds, before a step is laid out from there: so far a jump as
 * a change of setting or of state must not be read as a flow. Returns whether any head moved.
 */
export function holdOutlets(topology: Topology, figures: Figures, work: Work): boolean {
  let hasMoved = false;
  for (const { link, setTotalHeadM, droop } of figures.regulators) {
    const outlet = topology.to[link]!;
    if (work.state[link] !== ACTIVE || outlet >= topology.unknownCount) continue;
    const held = setTotalHeadM - droop * work.flowM3s[link]!;
    if (work.headM[outlet] === held) continue;
    work.headM[outlet] = held;
    hasMoved = true;
  }
  return hasMoved;
}

/** Lets each regulator and one-way part take the state its heads and flow ask for; returns how many changed. */
export function updateStates(topology: Topology, figures: Figures, work: Work): number {
  return updateRegulators(topology, figures, work) + updateOneWay(topology, figures, work);
}

function updateOneWay(topology: Topology, figures: Figures, work: Work): number {
  let changed = 0;
  for (const link of figures.oneWay) {
    if (work.isShut[link]) continue;
    const isShut = work.state[link] === CLOSED;
    const dropM = work.headM[topology.from[link]!]! - work.headM[topology.to[link]!]!;
    const after = (isShut ? dropM <= HEAD_TOLERANCE_M : work.flowM3s[link]! < -BACKFLOW_TOLERANCE_M3S)
      ? CLOSED
      : OPEN;
    if (after === work.state[link]) continue;
    work.state[link] = after;
    if (after === CLOSED) work.flowM3s[link] = 0;
    changed++;
  }
  return changed;
}

function updateRegulators(topology: Topology, figures: Figures, work: Work): number {
  let changed = 0;
  for (const regulator of figures.regulators) {
    const { link, setTotalHeadM, droop } = regulator;
    if (work.isShut[link]) continue;
    const inlet = work.headM[topology.from[link]!]!;
    const outlet = work.headM[topology.to[link]!]!;
    const flow = work.flowM3s[link]!;
    const openLossM = Math.abs(openRegulatorLoss(regulator, flow).lossM);
    const held = setTotalHeadM - droop * Math.max(0, flow);
    const before = work.state[link]!;
    let after = before;
    if (before === CLOSED) {
      if (inlet > outlet + HEAD_TOLERANCE_M && outlet < setTotalHeadM - HEAD_TOLERANCE_M)
        after = inlet >= setTotalHeadM ? ACTIVE : OPEN;
    } else if (flow < -BACKFLOW_TOLERANCE_M3S) after = CLOSED;
    else if (before === ACTIVE) {
      if (inlet - openLossM < held - HEAD_TOLERANCE_M) after = OPEN;
    } else if (outlet > held + HEAD_TOLERANCE_M) after = ACTIVE;
    if (after === before) continue;
    work.state[link] = after;
    if (after === CLOSED) work.flowM3s[link] = 0;
    changed++;
  }
  return changed;
}
