import type { ReactElement } from 'react';
import { goTo, runAction } from '../actions/run';
import { SEVERITY_SYMBOLS } from '../canvas/paint/annotations';
import { Level } from '../look/Level';
import { LOOK_NAMES } from '../look/looks';
import { PartSymbol } from '../look/PartSymbol';
import { STEPS, type Step, useDesk } from '../state/desk';
import { type StepState, useStepStates } from '../state/stepStates';
import { usePrinter } from '../state/units';
import { STEP_NAMES } from '../wording';

/** Thumb cuts in the book's fore-edge: the seven steps with their state, and how figures and page are shown. */
export function Steps(): ReactElement {
  const states = useStepStates();
  const open = useDesk((state) => state.step);
  const look = useDesk((state) => state.look);
  const printer = usePrinter();
  return (
    <nav className="edge" aria-label="Steps">
      <h1>Rillsheet</h1>
      <ol>
        {STEPS.map((step) => (
          <li key={step}>
            <ThumbCut step={step} state={states[step]} isOpen={step === open} />
          </li>
        ))}
      </ol>
      <div className="edge-foot">
        <button type="button" className="plain" onClick={() => runAction('view.units')}>
          {printer.system === 'us' ? 'Feet, gpm, psi' : 'Metres, L/min, kPa'}
        </button>
        <button type="button" className="plain" onClick={() => runAction('view.look')}>
          {LOOK_NAMES[look]}
        </button>
        <button type="button" className="plain" onClick={() => runAction('help.keys')}>
          Keys and help
        </button>
      </div>
    </nav>
  );
}

function stateInWords(state: StepState): string {
  if (state.level === 'empty') return 'nothing yet';
  if (state.level === 'good') return 'good';
  return `needs attention, ${state.count}`;
}

function ThumbCut({
  step,
  state,
  isOpen,
}: {
  readonly step: Step;
  readonly state: StepState;
  readonly isOpen: boolean;
}): ReactElement {
  return (
    <button
      type="button"
      className={isOpen ? 'cut is-open' : 'cut'}
      aria-current={isOpen ? 'step' : undefined}
      onClick={() => goTo(step)}
    >
      <span>{STEP_NAMES[step]}</span>
      <span className="cut-state">
        <Level state={state.level} />
        {state.worst ? (
          <span className={`count ink-${state.worst}`}>
            <PartSymbol name={SEVERITY_SYMBOLS[state.worst]} size={11} />
            <span aria-hidden="true">{state.count}</span>
          </span>
        ) : null}
        <span className="unseen">, {stateInWords(state)}</span>
      </span>
    </button>
  );
}
