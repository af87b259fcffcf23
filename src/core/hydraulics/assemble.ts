import { evaluateCurve } from './curves';
import type { Figures } from './figures';
import { evaluatePipes } from './friction';
import { assembleRegulators, openRegulatorLoss } from './regulators';
import type { Topology } from './topology';
import { OPEN, type Work } from './work';

/** Keeps a part that hangs in the air solvable; acts on the step alone, so it moves no result. m3/s per m */
const STEP_LEAK = 1e-15;
/** Links steeper than this in conductance are taken as this, m per m3/s. */
export const LEAST_GRADIENT = 1e-5;

/** Fills the system of this step: conductances, and what each junction lacks to balance. */
export function assemble(topology: Topology, figures: Figures, work: Work): void {
  evaluateLinks(figures, work);
  startSystem(topology, figures, work);
  assembleOpenLinks(topology, work);
  assembleRegulators(topology, figures, work);
  assembleEmitters(topology, figures, work);
}

/**
 * Head lost along every link, and its derivative, at the flows as they stand; a regulator as if it stood open.
 *
 * @param isDone pipes that are left as they are
 */
export function evaluateLinks(figures: Figures, work: Work, isDone?: Uint8Array): void {
  evaluatePipes(figures.pipes, work.flowM3s, work.lossM, work.gradient, isDone);
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

/** Empties the system and enters the fixed demands. */
export function startSystem(topology: Topology, figures: Figures, work: Work): void {
  work.diagonal.fill(STEP_LEAK);
  work.lower.fill(0);
  for (let i = 0; i < topology.unknownCount; i++) work.step[i] = -figures.demandM3s[i]!;
}

/** Enters the tangent of every link that stands open; `gradient` becomes its conductance. */
export function assembleOpenLinks(topology: Topology, work: Work): void {
  const { from, to } = topology;
  const { entryOfLink } = topology.pattern;
  const { headM, flowM3s, lossM, gradient, expected, diagonal, lower, step, state } = work;
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
}

/** Enters the tangent of every emitter, and clears what was gathered at held heads. */
export function assembleEmitters(topology: Topology, figures: Figures, work: Work): void {
  const { emitters } = figures;
  for (let i = 0; i < emitters.count; i++) {
    const at = emitters.node[i]!;
    work.diagonal[at] = work.diagonal[at]! + work.emitterSlope[i]!;
    work.step[at] = work.step[at]! - work.emitterFlow[i]!;
  }
  work.step.fill(0, topology.unknownCount);
}
