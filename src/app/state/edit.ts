import type { Catalog } from '../../core/catalog';
import {
  applyCommand,
  type Command,
  type Plan,
  type PlanPatch,
  perform,
  redo,
  startHistory,
  undo,
} from '../../core/plan';
import { sayProblem } from '../../core/words';
import { useDesk } from './desk';
import { createEngine } from './engine';
import { sameFinding } from './findingKeys';
import { host } from './host';
import { withRoutes } from './routes';
import { currentPrinter } from './units';

const engine = createEngine({
  designed: (design, plan) =>
    useDesk.setState((desk) => ({
      design,
      designedPlan: plan,
      engineFault: '',
      finding: sameFinding(desk.finding, desk.design?.findings ?? [], design.findings),
    })),
  routed: (beds, plan) =>
    useDesk.setState(({ design }) =>
      design === null ? {} : { design: withRoutes(design, beds, plan), routedPlan: plan },
    ),
  failed: (claim) => useDesk.setState({ engineFault: claim }),
  working: (isWorking) => useDesk.setState({ isWorking }),
});

/** A story of at least this many characters, and longer than the plan it began with, begins again: it would only grow. */
const LONG_STORY = 200_000;

/** The plan whose journal has its first line, the length of that line, and of all that came after it. */
let story = { planId: '', base: 0, since: 0 };
const NO_STORY = story;

function journal(patches: readonly PlanPatch[], before: Plan): void {
  const planId = before.id;
  const { fileName } = useDesk.getState();
  const name = fileName === '' ? before.project.title : fileName;
  const keep = (entry: unknown, begins: boolean): number => {
    const line = JSON.stringify(entry);
    void host.journalAppend({ planId, line, name, begins }).then((answer) => {
      // Lines that follow a lost one would be worth nothing: the next edit begins with the whole plan again.
      if (answer.kind === 'refused') story = NO_STORY;
    });
    return line.length;
  };
  if (story.planId !== planId || story.since > Math.max(LONG_STORY, story.base))
    story = { planId, base: keep({ base: before }, true), since: 0 };
  story = { ...story, since: story.since + keep({ patches }, false) };
}

/** Performs one edit. False, with the reason in the header, where the plan refuses it. */
export function edit(command: Command): boolean {
  const done = perform(useDesk.getState().history, command);
  if (!done.ok) {
    const problem = done.problems[0];
    if (problem) {
      const words = sayProblem(problem, currentPrinter());
      useDesk.setState({
        attempt: null,
        message: { severity: problem.severity, text: words.what, next: words.next },
      });
    }
    return false;
  }
  const before = useDesk.getState().history.plan;
  const { history, applied } = done.value;
  useDesk.setState({ history, attempt: null, message: null, finding: null });
  if (applied.forward.length > 0) {
    journal(applied.forward, before);
    engine.edit(applied.forward, history.plan);
  }
  return true;
}

/** Shows what a command would do, and has it designed, without keeping it. */
export function attempt(command: Command): void {
  const tried = applyCommand(useDesk.getState().history.plan, command);
  if (!tried.ok) return;
  useDesk.setState({ attempt: tried.value.plan });
  engine.attempt(tried.value.forward, tried.value.plan);
}

/** Forgets the gesture under way: the plan is the very plan it was. */
export function dropAttempt(): void {
  const { attempt: tried, history } = useDesk.getState();
  if (tried === null) return;
  useDesk.setState({ attempt: null });
  engine.edit([], history.plan);
}

function travel(step: ReturnType<typeof undo>): void {
  if (step === null) return;
  const before = useDesk.getState().history.plan;
  useDesk.setState({ history: step.history, attempt: null, finding: null, corner: null, message: null });
  keepSelectionAlive();
  journal(step.patches, before);
  engine.edit(step.patches, step.history.plan);
}

/** Brings the plan to where so many edits are done, by undoing or redoing what lies between. */
export function travelTo(edits: number): void {
  let step: ReturnType<typeof undo> = null;
  const patches: PlanPatch[] = [];
  for (let at = useDesk.getState().history; at.past.length !== edits; at = step.history) {
    const next = at.past.length > edits ? undo(at) : redo(at);
    if (next === null) break;
    step = next;
    patches.push(...next.patches);
  }
  if (step !== null) travel({ history: step.history, patches });
}

export const undoEdit = (): void => travel(undo(useDesk.getState().history));
export const redoEdit = (): void => travel(redo(useDesk.getState().history));

function keepSelectionAlive(): void {
  const { selection, history } = useDesk.getState();
  const alive = selection.filter((item) => Object.hasOwn(history.plan[item.map], item.id));
  if (alive.length !== selection.length) useDesk.setState({ selection: alive });
}

/** Puts another plan on the desk, with nothing to undo. */
export function layOut(plan: Plan, about: { readonly fileName: string; readonly isSaved: boolean }): void {
  useDesk.setState({
    history: startHistory(plan),
    savedPlan: about.isSaved ? plan : { ...plan },
    file: null,
    fileName: about.fileName,
    savedAt: '',
    selection: [],
    corner: null,
    attempt: null,
    design: null,
    designedPlan: null,
    routedPlan: null,
    finding: null,
    message: null,
    panel: 'none',
  });
  story = NO_STORY;
  engine.open(plan);
}

/** After a save the journal begins again from the saved plan. */
export function beginJournalAgain(): void {
  story = NO_STORY;
}

/** Stops the design under way; the next edit starts it again. */
export const stopDesigning = (): void => engine.stop();

/** Designs with these parts from now on, until the program is closed. */
export const designWithParts = (catalog: Catalog): void => engine.useParts(catalog);
