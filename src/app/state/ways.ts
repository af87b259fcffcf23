import { create } from 'zustand';
import { type Catalog, typicalCatalog } from '../../core/catalog';
import { compareWays, type Design, planOfWay, type WaysCompared } from '../../core/design';
import type { LayoutKind } from '../../core/layout';
import type { Command, Plan } from '../../core/plan';
import { sayProblem } from '../../core/words';
import { useDesk } from './desk';
import { createEngine, type Engine } from './engine';
import { currentPrinter } from './units';

/** What the other way does differently in every bed; null or empty: as the plan has it. */
export interface WayChoices {
  readonly rowSpacingM: number | null;
  readonly driplineId: string;
  readonly layout: LayoutKind | '';
  readonly zoning: '' | 'one-valve' | 'valve-each';
}

interface WaysState {
  readonly choices: WayChoices;
  /** The plan on the desk when the comparison was asked for, and its own design. */
  readonly first: Design | null;
  readonly second: Design | null;
  readonly compared: WaysCompared | null;
  readonly isWorking: boolean;
  readonly fault: string;
}

export const NO_CHOICE: WayChoices = { rowSpacingM: null, driplineId: '', layout: '', zoning: '' };

export const useWays = create<WaysState>(() => ({
  choices: NO_CHOICE,
  first: null,
  second: null,
  compared: null,
  isWorking: false,
  fault: '',
}));

/** The commands that make the other way out of a plan; none where nothing is chosen. */
export function commandsOfWay(plan: Plan, choices: WayChoices): readonly Command[] {
  const ids = Object.keys(plan.beds).sort();
  const changes = {
    ...(choices.rowSpacingM === null ? {} : { rowSpacingM: choices.rowSpacingM }),
    ...(choices.driplineId === '' ? {} : { driplineId: choices.driplineId }),
    ...(choices.layout === '' ? {} : { layout: choices.layout, alternative: null }),
    ...(choices.zoning === 'one-valve' ? { zoneKey: 'together' } : {}),
  };
  const items = ids.map((id) => ({ map: 'beds', id }));
  const all: Command[] =
    Object.keys(changes).length === 0 ? [] : [{ name: 'change-items', params: { items, changes } }];
  const each: Command[] =
    choices.zoning === 'valve-each'
      ? ids.map((id) => ({ name: 'set-bed', params: { id, changes: { zoneKey: `alone-${id}` } } }))
      : [];
  return [...all, ...each];
}

/** Changes a choice; figures of an earlier choice no longer answer for it. */
export function chooseWay(changes: Partial<WayChoices>): void {
  stopComparing();
  useWays.setState(({ choices }) => ({
    choices: { ...choices, ...changes },
    first: null,
    second: null,
    compared: null,
    fault: '',
  }));
}

let engine: Engine | null = null;
/** The engine remembers parts it was once given. */
let hasOwnParts = false;

/** A worker of its own, so that the desk's design goes on undisturbed. */
function startEngine(): Engine {
  return createEngine({
    designed: (design) => {
      const { first } = useWays.getState();
      if (first !== null) useWays.setState({ second: design, compared: compareWays(first, design) });
    },
    // Two ways are weighed whole: tubing ahead of its design says nothing yet.
    routed: () => undefined,
    failed: (claim) => useWays.setState({ fault: claim, isWorking: false }),
    working: (isWorking) => useWays.setState({ isWorking }),
  });
}

const designWith = (started: Engine, plan: Plan, catalog: Catalog): void => {
  const { open, useParts: bringParts } = started;
  open(plan);
  if (catalog !== typicalCatalog || hasOwnParts) bringParts(catalog);
  hasOwnParts ||= catalog !== typicalCatalog;
};

/** Designs the other way of the plan on the desk and weighs it against the design that stands there. */
export function compareWithWay(): void {
  const { design } = useDesk.getState();
  if (design === null || design.quality !== 'finished') return;
  const { choices } = useWays.getState();
  const way = planOfWay(design.plan, commandsOfWay(design.plan, choices));
  if (!way.ok) {
    const [problem] = way.problems;
    useWays.setState({ fault: problem ? sayProblem(problem, currentPrinter()).what : '' });
    return;
  }
  stopComparing();
  useWays.setState({ first: design, second: null, compared: null, fault: '', isWorking: true });
  engine ??= startEngine();
  designWith(engine, way.value, design.catalog);
}

/** Stops the design of the other way; what was compared before stays. */
export function stopComparing(): void {
  if (useWays.getState().isWorking) engine?.stop();
  useWays.setState({ isWorking: false });
}
