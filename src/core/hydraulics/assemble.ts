import { evaluateCurve } from './curves';
import type { Figures } from './figures';
import { evaluatePipes } from './friction';
import { assembleRegulators, openRegulatorLoss } from './regulators';
import type { Topology } from './topology';
import { OPEN, type Work } from './work';

/** Keeps a part that hangs in the air solvable; acts on the step alone, so it moves no result. m3/s per m */
const STEP_LEAK = 1e-15;
const LEAST_GRADIENT = 1e-5;

/** Fills the system of this step: conductances, and what each junction lacks to balance. */
export function assemble(topology: Topology, figures: Figures, work: Work): void {
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
