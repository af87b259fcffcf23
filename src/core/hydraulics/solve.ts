import { allSteps, type Steps } from '../units';
import { assemble } from './assemble';
import { searchCarefully } from './careful';
import { evaluateEmitters } from './emitters';
import { carryBack, factorAndCarry } from './factor';
import type { Figures } from './figures';
import { type PreparedNetwork, prepareNetwork } from './prepare';
import { holdOutlets, updateStates } from './regulators';
import { refusedSolution, report } from './report';
import { setStartingPoint } from './start';
import type { Topology } from './topology';
import type { Network, Solution } from './types';
import { ACTIVE, layOutWork, OPEN, type Scratch, type Work } from './work';

/** Settled: the flows of the last step changed by less than this share of all flow. */
const FLOW_CHANGE_RATIO = 1e-7;
const MOST_ITERATIONS = 40;
/** Most solves settle in fewer iterations than this; those that do not are done in steps. */
const BREATHE_AFTER = 8;
/** From here on steps are shortened where they do not shrink. */
const DAMP_AFTER = 12;
const MOST_STATE_CHANGES = 24;
const FLOW_TOLERANCE_M3S = 1e-12;

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
  return allSteps(solveInRoom(prepared, warm, prepared.topology?.scratch));
}

/**
 * As `solvePrepared`, where whoever asks may do something else between the steps of a long search: a starved zone takes
 * many. It works in a room of its own, since another solve may come between.
 */
export function solvePreparedSteps(prepared: PreparedNetwork, warm?: Solution): Steps<Solution> {
  return solveInRoom(prepared, warm, { work: null });
}

function* solveInRoom(
  prepared: PreparedNetwork,
  warm: Solution | undefined,
  room: Scratch | undefined,
): Steps<Solution> {
  const { topology, figures } = prepared;
  if (topology === null || figures === null) return refusedSolution(prepared);
  const work = layOutWork(
    room ?? topology.scratch,
    topology.nodeCount,
    topology.from.length,
    topology.pattern.row.length + 1,
    figures.emitters.count,
  );
  return report(prepared, topology, figures, work, yield* search(topology, figures, work, warm));
}

interface Ending {
  readonly iterations: number;
  readonly hasSettled: boolean;
}

/** The quick search; where it does not settle, the careful one brings it near, and the quick one finishes. */
function* search(
  topology: Topology,
  figures: Figures,
  work: Work,
  warm: Solution | undefined,
): Steps<Ending> {
  setStartingPoint(topology, figures, work, warm);
  const quick = yield* iterate(topology, figures, work);
  if (quick.hasSettled) return quick;
  setStartingPoint(topology, figures, work, undefined);
  const isNear = yield* searchCarefully(topology, figures, work);
  const [headM, flowM3s, state] = [work.headM.slice(), work.flowM3s.slice(), work.state.slice()];
  evaluateEmitters(figures.emitters, work.headM, work.emitterFlow, work.emitterSlope);
  const finish = yield* iterate(topology, figures, work);
  const iterations = quick.iterations + finish.iterations;
  if (finish.hasSettled || !isNear) return { iterations, hasSettled: finish.hasSettled };
  work.headM.set(headM);
  work.flowM3s.set(flowM3s);
  work.state.set(state);
  evaluateEmitters(figures.emitters, work.headM, work.emitterFlow, work.emitterSlope);
  return { iterations, hasSettled: true };
}

/** Newton on flows and heads together, with steps shortened where they stop shrinking. */
function* iterate(topology: Topology, figures: Figures, work: Work): Steps<Ending> {
  let lastChange = Number.POSITIVE_INFINITY;
  let share = 1;
  let stateChanges = 0;
  for (let iterations = 1; iterations <= MOST_ITERATIONS; iterations++) {
    if (holdOutlets(topology, figures, work))
      evaluateEmitters(figures.emitters, work.headM, work.emitterFlow, work.emitterSlope);
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
    if (iterations % BREATHE_AFTER === 0) yield;
  }
  return { iterations: MOST_ITERATIONS, hasSettled: false };
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
  const { expectedFlow } = work;
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
  for (let i = 0; i < emitters.count; i++)
    expectedFlow[i] = emitterFlow[i]! + emitterSlope[i]! * share * step[emitters.node[i]!]!;
  evaluateEmitters(emitters, headM, emitterFlow, emitterSlope);
  let strayed = 0;
  for (let i = 0; i < emitters.count; i++) strayed += Math.abs(emitterFlow[i]! - expectedFlow[i]!);
  return { change: Math.max(change, strayed) / share, total };
}
