import { useMemo } from 'react';
import type { Problem, Severity } from '../../core/units';
import type { LevelState } from '../look/Level';
import { STEPS, type Step, useDesk } from './desk';

/** How a step stands: its level, its worst problem that wants a look, and how many there are. */
export interface StepState {
  readonly level: LevelState;
  readonly worst: Exclude<Severity, 'note'> | null;
  readonly count: number;
}

/** Rooms whose findings belong to a step; what is not named here belongs to Review alone. */
const STEP_OF_ROOM: Readonly<Record<string, Step>> = {
  plan: 'site',
  exchange: 'site',
  soilwater: 'tubing',
  layout: 'tubing',
  supply: 'zones',
  hydraulics: 'zones',
  takeoff: 'sheet',
};

/** Findings of the review that one of the earlier steps can mend. */
const STEP_OF_REVIEW: readonly (readonly [RegExp, Step])[] = [
  [/source|static|meter|short-when-filter|backflow/, 'water'],
  [/route|root-ball/, 'tubing'],
  [/emitter|uniformity|flush|velocity|pipe|regulator|flow-over|zone/, 'zones'],
];

/** Findings of soil and water that are mended where the climate and the ordinance are said. */
const OF_THE_SITE = /climate|et-|weather|region|ordinance|allowance|factor|estimated-use|days|week|saving/;

/** The step where a finding is mended; Review where it belongs to no other. */
export function stepOfFinding(finding: Problem): Step {
  const [room = '', name = ''] = finding.code.split('.', 2);
  if (room === 'review') return STEP_OF_REVIEW.find(([words]) => words.test(name))?.[1] ?? 'review';
  if (room === 'soilwater' && OF_THE_SITE.test(name)) return 'site';
  return STEP_OF_ROOM[room] ?? 'review';
}

const EMPTY: StepState = { level: 'empty', worst: null, count: 0 };

function stateFor(findings: readonly Problem[]): StepState {
  const wanting = findings.filter((finding) => finding.severity !== 'note');
  if (wanting.length === 0) return { level: 'good', worst: null, count: 0 };
  const worst = wanting.some((finding) => finding.severity === 'stop') ? 'stop' : 'warn';
  return { level: 'attention', worst, count: wanting.length };
}

/** State of every step, from the plan and the findings of its design. */
export function useStepStates(): Readonly<Record<Step, StepState>> {
  const plan = useDesk((state) => state.history.plan);
  const design = useDesk((state) => state.design);
  return useMemo(() => {
    const findings = design?.findings ?? [];
    const of = (step: Step): readonly Problem[] =>
      findings.filter((finding) => stepOfFinding(finding) === step);
    const hasBeds = Object.keys(plan.beds).length > 0;
    const hasSite = Object.keys(plan.structures).length > 0 || plan.site.soil !== null;
    const [source] = Object.values(plan.sources);
    const isMeasured = source !== undefined && source.staticHeadM !== null;
    const isDrawn: Readonly<Record<Step, boolean>> = {
      site: hasSite,
      water: source !== undefined,
      beds: hasBeds,
      tubing: hasBeds && design !== null,
      zones: (design?.supply.zones.length ?? 0) > 0,
      review: hasBeds && design !== null,
      sheet: hasBeds && design !== null,
    };
    const stateOf = (step: Step): StepState => {
      if (!isDrawn[step]) return EMPTY;
      if (step === 'review') return stateFor(findings);
      if (step === 'water' && !isMeasured) return { level: 'attention', worst: 'warn', count: 1 };
      return stateFor(of(step));
    };
    return Object.fromEntries(STEPS.map((step) => [step, stateOf(step)])) as Record<Step, StepState>;
  }, [plan, design]);
}
