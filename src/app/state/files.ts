import demonstrationText from '../../../assets/demonstration.rillsheet.json?raw';
import { emptyPlan, type Plan, planFromDocument, readPlan, writePlan } from '../../core/plan';
import type { Outcome, Problem } from '../../core/units';
import { sayProblem } from '../../core/words';
import type { Answer, FileKind, FileToken, OpenedFile } from '../../host/contract';
import { isUnsaved, say, useDesk } from './desk';
import { beginJournalAgain, layOut } from './edit';
import { runShown } from './errands';
import { host } from './host';
import { currentPrinter } from './units';

export const PLAN_KIND: FileKind = { label: 'Plan', extensions: ['json'] };
const GEOJSON_KIND: FileKind = { label: 'GeoJSON', extensions: ['geojson', 'json'] };

/** A plan needs an id that no other has; the clock and chance live out here, never in core. */
const freshPlanId = (): string => crypto.randomUUID();

/** Says the first problem, and how many more there are. */
export function complain(problems: readonly Problem[]): void {
  const [problem] = problems;
  if (!problem) return;
  const said = sayProblem(problem, currentPrinter());
  const more = problems.length > 1 ? ` (and ${problems.length - 1} more)` : '';
  say(`${said.what}${more} ${said.where}`.trim(), problem.severity, said.next);
}

/** Says what the host refused, in the words of its code. */
const refusedBy = (answer: { readonly code: string; readonly detail: string }, fileName: string): void =>
  complain([
    {
      code: answer.code,
      severity: 'stop',
      where: fileName === '' ? {} : { file: fileName },
      params: { detail: answer.detail },
    },
  ]);

/** What waits for the designer's word on unsaved work. */
let waiting: (() => void) | null = null;

/** Does something that would put the present plan away, after asking where work would be lost. */
function afterAsking(then: () => void): void {
  if (!isUnsaved(useDesk.getState())) {
    then();
    return;
  }
  waiting = then;
  useDesk.setState({ panel: 'unsaved' });
}

/** The answer to the question of unsaved work. */
export async function answerUnsaved(answer: 'save' | 'leave' | 'stay'): Promise<void> {
  const then = waiting;
  waiting = null;
  useDesk.setState({ panel: 'none' });
  if (answer === 'stay' || then === null) return;
  if (answer === 'save' && !(await savePlan())) return;
  then();
}

/** An empty plan, in the units in use. */
export function layOutEmpty(): void {
  const { units } = useDesk.getState().history.plan.display;
  layOut(emptyPlan(freshPlanId(), units), { fileName: '', isSaved: true });
}

export function newPlan(): void {
  afterAsking(() => {
    layOutEmpty();
    useDesk.setState({ step: 'site', panel: 'walk-through' });
  });
}

export function openDemonstration(): void {
  afterAsking(() => {
    const read = readPlan(demonstrationText, 'demonstration.rillsheet.json');
    if (!read.ok) throw new Error('the demonstration plan does not read');
    layOut({ ...read.value, id: freshPlanId() }, { fileName: '', isSaved: true });
    useDesk.setState({ step: 'zones' });
  });
}

/** Plan files larger than this are read outside the window's thread, characters: pictures make them so. */
const LONG_TEXT = 1_000_000;

async function readPlanText(text: string, name: string): Promise<Outcome<Plan> | null> {
  return text.length < LONG_TEXT
    ? readPlan(text, name)
    : runShown('Reading the plan', 'plan', { text, fileName: name });
}

async function take(opened: OpenedFile): Promise<void> {
  const text = new TextDecoder().decode(opened.bytes);
  const asPlan = await readPlanText(text, opened.name);
  if (asPlan === null) return;
  if (asPlan.ok) {
    layOut(asPlan.value, { fileName: opened.name, isSaved: true });
    useDesk.setState({ file: opened.file, step: 'beds' });
    if (opened.isOpenElsewhere)
      complain([{ code: 'host.open-elsewhere', severity: 'warn', where: { file: opened.name }, params: {} }]);
    return;
  }
  const isOtherDocument = asPlan.problems.some((problem) => problem.code === 'plan.not-a-plan');
  if (!isOtherDocument) {
    complain(asPlan.problems);
    return;
  }
  const asSite = await runShown('Reading the file', 'geojson', { text, fileName: opened.name });
  if (asSite === null) return;
  if (!asSite.ok) {
    complain(asSite.problems);
    return;
  }
  layOut(asSite.value, { fileName: opened.name.replace(/\.\w+$/, '.rillsheet.json'), isSaved: false });
  complain(asSite.problems);
}

function settle(answer: Answer<OpenedFile>): void {
  if (answer.kind === 'done') void take(answer.value);
  else if (answer.kind === 'refused') refusedBy(answer, '');
}

export function openPlan(): void {
  afterAsking(() => void host.open([PLAN_KIND, GEOJSON_KIND]).then(settle));
}
export function openRecentPlan(file: FileToken): void {
  afterAsking(() => void host.openRecent(file).then(settle));
}
export function openGivenFile(opened: OpenedFile): void {
  // What a person brought along is no demonstration, even at the first visit.
  useDesk.setState({ isFirstVisit: false });
  afterAsking(() => void take(opened));
}

export function suggestedName(plan: Plan, ending: string): string {
  const { fileName } = useDesk.getState();
  if (ending === 'rillsheet.json' && fileName !== '') return fileName;
  const title = plan.project.title
    .trim()
    .replace(/[^\p{L}\p{N} -]+/gu, '')
    .trim();
  return `${title === '' ? 'Plan' : title}.${ending}`;
}

function wallTime(): string {
  const now = new Date();
  return `${String(now.getHours()).padStart(2, '0')}:${String(now.getMinutes()).padStart(2, '0')}`;
}

async function keep(isAs: boolean): Promise<boolean> {
  const { history, file } = useDesk.getState();
  const plan = history.plan;
  const bytes = new TextEncoder().encode(writePlan(plan));
  const name = suggestedName(plan, 'rillsheet.json');
  const answer = isAs ? await host.saveAs(name, bytes) : await host.save(file, name, bytes);
  if (answer.kind === 'refused') {
    refusedBy(answer, name);
    // A place that takes nothing is answered by asking for another one.
    if (isAs || !(await keep(true))) return false;
    say(`Saved as ${useDesk.getState().fileName} instead.`, 'warn', 'The first place refused it.');
    return true;
  }
  if (answer.kind !== 'done') return false;
  useDesk.setState({
    savedPlan: plan,
    savedAt: wallTime(),
    file: answer.value,
    fileName: answer.value?.name ?? name,
    message: null,
  });
  await host.journalClear(plan.id);
  beginJournalAgain();
  return true;
}

export const savePlan = (): Promise<boolean> => keep(false);
export const savePlanAs = (): Promise<boolean> => keep(true);

/** A plan rebuilt from the journal; unsaved until the designer saves it. */
export function layOutRecovered(plan: Plan): void {
  const read = planFromDocument(plan, 'recovered');
  if (!read.ok) complain(read.problems);
  else layOut(read.value, { fileName: '', isSaved: false });
}

/** Puts what another file holds beside what is drawn, after its unit and its layers were asked for. */
export async function bringIn(): Promise<void> {
  const { bringInSite } = await import('./bringIn');
  await bringInSite();
}

export async function bringInUnderlay(): Promise<void> {
  const { chooseUnderlay } = await import('./underlays');
  await chooseUnderlay();
}
