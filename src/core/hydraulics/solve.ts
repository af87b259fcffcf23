import { evaluateCurve } from './curves';
import { evaluateEmitters } from './emitters';
import { carryBack, factorAndCarry } from './factor';
import { evaluatePipes } from './friction';
import { type Figures, type PreparedNetwork, prepareNetwork, type Topology } from './prepare';
import { startingPoint } from './start';
import type { LinkState, Network, Solution } from './types';

/** Settled: the flows of the last step changed by less than this share of all flow. */
const FLOW_CHANGE_RATIO = 1e-7;
const MOST_ITERATIONS = 120;
/** From here on steps are shortened where they do not shrink. */
const DAMP_AFTER = 12;
const MOST_STATE_CHANGES = 24;
/** Keeps a part that hangs in the air solvable; acts on the step alone, so it moves no result. m3/s per m */
const STEP_LEAK = 1e-15;
const LEAST_GRADIENT = 1e-5;
const HEAD_TOLERANCE_M = 1e-6;
const FLOW_TOLERANCE_M3S = 1e-10;

const OPEN = 0;
const ACTIVE = 1;
const CLOSED = 2;
const STATE_NAMES: readonly LinkState[] = ['open', 'active', 'closed'];

/** Flows, heads and states while the solver works, in solver order. */
interface Work {
  readonly headM: Float64Array;
  readonly flowM3s: Float64Array;
  readonly state: Uint8Array;
  readonly lossM: Float64Array;
  readonly gradient: Float64Array;
  readonly expected: Float64Array;
  readonly emitterFlow: Float64Array;
  readonly emitterSlope: Float64Array;
  readonly tangentFlow: Float64Array;
  readonly diagonal: Float64Array;
  readonly lower: Float64Array;
  readonly step: Float64Array;
}

/**
 * Heads, flows and states of a network at rest in its steady state.
 *
 * Newton's method on flows and heads together (the global gradient method): each link's head loss is replaced by its
 * tangent, mass balance gives one sparse symmetric system in the steps of the heads, and flows follow.
 * Source: Todini and Pilati (1988); regulators as links whose state the solver finds.
 *
 * @param warm the solution of a network of the same shape, to start from
 * @returns status `settled` with a mass balance self-check; `unsettled` with the worst node; `refused` with the issues
 */
export function solveNetwork(network: Network, warm?: Solution): Solution {
  return solvePrepared(prepareNetwork(network), warm);
}

/** Solves a network made ready by `prepareNetwork` or `withFigures`. */
export function solvePrepared(prepared: PreparedNetwork, warm?: Solution): Solution {
  const { topology, figures } = prepared;
  if (topology === null || figures === null) return refusedSolution(prepared);
  const work = layOutWork(topology, figures);
  const start = startingPoint(prepared.network, topology, figures, warm);
  work.headM.set(start.headM);
  work.flowM3s.set(start.flowM3s);
  for (const regulator of figures.regulators)
    work.state[regulator.link] = STATE_NAMES.indexOf(start.state[regulator.link] ?? 'active');
  for (let i = 0; i < work.state.length; i++) if (figures.isClosed[i]) work.state[i] = CLOSED;
  const { iterations, hasSettled } = iterate(topology, figures, work);
  return report(prepared, topology, figures, work, iterations, hasSettled);
}

function layOutWork(topology: Topology, figures: Figures): Work {
  const { nodeCount, from, pattern } = topology;
  return {
    headM: new Float64Array(nodeCount),
    flowM3s: new Float64Array(from.length),
    state: new Uint8Array(from.length),
    lossM: new Float64Array(from.length),
    gradient: new Float64Array(from.length),
    expected: new Float64Array(from.length),
    emitterFlow: new Float64Array(figures.emitters.count),
    emitterSlope: new Float64Array(figures.emitters.count),
    tangentFlow: new Float64Array(figures.emitters.count),
    diagonal: new Float64Array(nodeCount),
    lower: new Float64Array(pattern.row.length + 1),
    step: new Float64Array(nodeCount),
  };
}

function iterate(topology: Topology, figures: Figures, work: Work) {
  let lastChange = Number.POSITIVE_INFINITY;
  let share = 1;
  let stateChanges = 0;
  evaluateEmitters(figures.emitters, work.headM, work.emitterFlow, work.emitterSlope);
  for (let iterations = 1; iterations <= MOST_ITERATIONS; iterations++) {
    assemble(topology, figures, work);
    factorAndCarry(topology.pattern, work.diagonal, work.lower, work.step);
    carryBack(topology.pattern, work.lower, work.step);
    const { change, total } = advance(topology, figures, work, share);
    const isStill = change <= FLOW_CHANGE_RATIO * total || change < FLOW_TOLERANCE_M3S;
    const mayChangeState = stateChanges < MOST_STATE_CHANGES && (isStill || iterations < DAMP_AFTER);
    const changed = mayChangeState ? updateStates(topology, figures, work) : 0;
    stateChanges += changed;
    if (isStill && changed === 0 && share === 1) {
      const isConsistent = updateStates(topology, figures, { ...work, state: work.state.slice() }) === 0;
      return { iterations, hasSettled: isConsistent };
    }
    if (iterations > DAMP_AFTER && !isStill)
      share = change > 0.5 * lastChange ? Math.max(0.1, share * 0.7) : 1;
    else share = 1;
    lastChange = change;
  }
  return { iterations: MOST_ITERATIONS, hasSettled: false };
}

/** Fills the system of this step: conductances, and what each junction lacks to balance. */
function assemble(topology: Topology, figures: Figures, work: Work): void {
  const { from, to, unknownCount, pattern } = topology;
  const { headM, flowM3s, lossM, gradient, expected, diagonal, lower, step, state } = work;
  const { demandM3s, emitters, pipes } = figures;
  diagonal.fill(STEP_LEAK);
  lower.fill(0);
  for (let i = 0; i < unknownCount; i++) step[i] = -demandM3s[i]!;
  evaluatePipes(pipes, flowM3s, lossM, gradient);
  evaluateOthers(figures, work);
  const { entryOfLink } = pattern;
  for (let i = 0; i < from.length; i++) {
    if (state[i] !== OPEN) continue;
    const a = from[i]!;
    const b = to[i]!;
    const conductance = 1 / Math.max(gradient[i]!, LEAST_GRADIENT);
    const q = flowM3s[i]! + (headM[a]! - headM[b]! - lossM[i]!) * conductance;
    expected[i] = q;
    gradient[i] = conductance;
    diagonal[a] = diagonal[a]! + conductance;
    diagonal[b] = diagonal[b]! + conductance;
    step[a] = step[a]! - q;
    step[b] = step[b]! + q;
    const e = entryOfLink[i]!;
    lower[e] = lower[e]! - conductance;
  }
  assembleRegulators(topology, figures, work);
  for (let i = 0; i < emitters.count; i++) {
    const at = emitters.node[i]!;
    diagonal[at] = diagonal[at]! + work.emitterSlope[i]!;
    step[at] = step[at]! - work.emitterFlow[i]!;
  }
  for (let i = unknownCount; i < step.length; i++) step[i] = 0;
}

function evaluateOthers(figures: Figures, work: Work): void {
  for (const { link, law } of figures.curves) {
    const { lossM, gradient } = evaluateCurve(law, work.flowM3s[link]!);
    work.lossM[link] = lossM;
    work.gradient[link] = gradient;
  }
  for (const regulator of figures.regulators) {
    const { lossM, gradient } = openRegulatorLoss(regulator, work.flowM3s[regulator.link]!);
    work.lossM[regulator.link] = lossM;
    work.gradient[regulator.link] = gradient;
  }
}

/** What a regulator standing open takes: its own loss, and never less than the gap between least inlet and setting. */
function openRegulatorLoss(regulator: Figures['regulators'][number], flowM3s: number) {
  const own = evaluateCurve(regulator.openLaw, flowM3s);
  const gap = evaluateCurve({ kind: 'offset-power', offsetM: regulator.gapM, k: 0, exponent: 2 }, flowM3s);
  return Math.abs(own.lossM) >= Math.abs(gap.lossM) ? own : gap;
}

/** An active regulator: a held head at its outlet, falling with flow by its droop; its inlet gives what the outlet took. */
function assembleRegulators(topology: Topology, figures: Figures, work: Work): void {
  for (const { link, setTotalHeadM, droop } of figures.regulators) {
    if (work.state[link] !== ACTIVE) continue;
    const a = topology.from[link]!;
    const b = topology.to[link]!;
    const flow = work.flowM3s[link]!;
    const conductance = 1 / Math.max(droop, 1e-3);
    const q = flow + (setTotalHeadM - work.headM[b]! - droop * flow) * conductance;
    work.expected[link] = q;
    work.gradient[link] = conductance;
    work.diagonal[b] = work.diagonal[b]! + conductance;
    work.step[b] = work.step[b]! + q;
    work.step[a] = work.step[a]! - q;
  }
}

/**
 * Takes the step: heads, then flows from the tangents, then the emitters afresh. Returns how much flow changed (or the
 * emitters strayed from their tangents), and how much flow there is.
 */
function advance(
  topology: Topology,
  figures: Figures,
  work: Work,
  share: number,
): { change: number; total: number } {
  const { from, to, unknownCount } = topology;
  const { headM, flowM3s, expected, gradient, step, state, emitterFlow, emitterSlope } = work;
  const { emitters } = figures;
  for (let i = 0; i < unknownCount; i++) headM[i] = headM[i]! + share * step[i]!;
  let change = 0;
  let total = 0;
  for (let i = 0; i < from.length; i++) {
    let q = 0;
    if (state[i] === OPEN) q = expected[i]! + gradient[i]! * (step[from[i]!]! - step[to[i]!]!);
    else if (state[i] === ACTIVE) q = expected[i]! - gradient[i]! * step[to[i]!]!;
    const before = flowM3s[i]!;
    q = before + share * (q - before);
    flowM3s[i] = q;
    change += Math.abs(q - before);
    total += Math.abs(q);
  }
  let strayed = 0;
  for (let i = 0; i < emitters.count; i++)
    emitterFlow[i] = emitterFlow[i]! + emitterSlope[i]! * share * step[emitters.node[i]!]!;
  const { tangentFlow } = work;
  tangentFlow.set(emitterFlow);
  evaluateEmitters(emitters, headM, emitterFlow, emitterSlope);
  for (let i = 0; i < emitters.count; i++) strayed += Math.abs(emitterFlow[i]! - tangentFlow[i]!);
  return { change: Math.max(change, strayed) / share, total };
}

/** Lets each regulator take the state its heads and flow ask for; returns how many changed. */
function updateStates(topology: Topology, figures: Figures, work: Work): number {
  let changed = 0;
  for (const regulator of figures.regulators) {
    const { link, setTotalHeadM, droop } = regulator;
    if (figures.isClosed[link]) continue;
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
    } else if (flow < -FLOW_TOLERANCE_M3S) after = CLOSED;
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

function refusedSolution(prepared: PreparedNetwork): Solution {
  const { nodes, links } = prepared.network;
  return {
    status: 'refused',
    iterations: 0,
    worstResidualM3s: 0,
    worstNodeId: null,
    headM: new Float64Array(nodes.length),
    outflowM3s: new Float64Array(nodes.length),
    flowM3s: new Float64Array(links.length),
    velocityMs: new Float64Array(links.length),
    headlossM: new Float64Array(links.length),
    state: links.map((link) => (link.isClosed ? 'closed' : 'open')),
    issues: prepared.issues,
  };
}

/** Puts the result in the network's order and checks the balance of every junction afresh. */
function report(
  prepared: PreparedNetwork,
  topology: Topology,
  figures: Figures,
  work: Work,
  iterations: number,
  hasSettled: boolean,
): Solution {
  const { nodes, links } = prepared.network;
  const { positionOfNode, numberOfLink, from, to } = topology;
  const { emitters } = figures;
  evaluateEmitters(emitters, work.headM, work.emitterFlow, work.emitterSlope);
  const out = figures.demandM3s.slice();
  for (let i = 0; i < emitters.count; i++)
    out[emitters.node[i]!] = out[emitters.node[i]!]! + work.emitterFlow[i]!;
  const balance = out.map((q) => -q);
  for (let i = 0; i < from.length; i++) {
    balance[from[i]!] = balance[from[i]!]! - work.flowM3s[i]!;
    balance[to[i]!] = balance[to[i]!]! + work.flowM3s[i]!;
  }
  const headM = new Float64Array(nodes.length);
  const outflowM3s = new Float64Array(nodes.length);
  let worst = -1;
  let worstResidualM3s = 0;
  for (let i = 0; i < nodes.length; i++) {
    const at = positionOfNode[i]!;
    const isHeld = at >= topology.unknownCount;
    headM[i] = isHeld ? figures.heldHeadM[at]! : work.headM[at]!;
    outflowM3s[i] = isHeld ? balance[at]! : out[at]!;
    const residual = isHeld ? 0 : Math.abs(balance[at]!);
    if (residual > worstResidualM3s || worst < 0) {
      worst = i;
      worstResidualM3s = residual;
    }
  }
  const flowM3s = new Float64Array(links.length);
  const velocityMs = new Float64Array(links.length);
  const headlossM = new Float64Array(links.length);
  links.forEach((link, i) => {
    const at = numberOfLink[i]!;
    flowM3s[i] = work.flowM3s[at]!;
    headlossM[i] = work.headM[from[at]!]! - work.headM[to[at]!]!;
    if (link.kind === 'pipe')
      velocityMs[i] = (4 * Math.abs(flowM3s[i]!)) / (Math.PI * link.insideDiameterM ** 2);
  });
  const areFiguresFinite = headM.every(Number.isFinite) && flowM3s.every(Number.isFinite);
  const hasOutlet = emitters.count > 0 || figures.demandM3s.some((q) => q !== 0);
  const issues = hasOutlet || nodes.length === 0 ? [] : [{ code: 'hydraulics.no-outflow', id: '' }];
  return {
    status: hasSettled && areFiguresFinite ? 'settled' : 'unsettled',
    iterations,
    worstResidualM3s,
    worstNodeId: worst < 0 ? null : nodes[worst]!.id,
    headM,
    outflowM3s,
    flowM3s,
    velocityMs,
    headlossM,
    state: links.map((_, i) => STATE_NAMES[work.state[numberOfLink[i]!]!]!),
    issues,
  };
}
