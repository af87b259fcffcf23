import { create } from 'zustand';
import {
  type Catch,
  findCatch,
  headingRad,
  heldDirection,
  type PlanPoint,
  type Polyline,
  pointFrom,
} from '../../core/geometry';
import { ITEM_MAPS } from '../../core/plan';
import { METRES_PER_FOOT } from '../../core/units';
import { sayProblem } from '../../core/words';
import { freeId } from '../tools/arrange';
import { type CatchIndex, catchIndexOf } from '../tools/catchIndex';
import { type Entry, readEntry } from '../tools/entry';
import type { DrawingSizes, ToolContext, ToolEvent } from '../tools/tool';
import { TOOLS, type ToolKey } from '../tools/toolTable';
import { laidRoutes } from './bedActs';
import { pipeEndsOf } from './designedPlaces';
import { type ItemRef, shownPlan, useDesk } from './desk';
import { attempt, dropAttempt, edit } from './edit';
import { currentPrinter } from './units';
import { keepInSight, useView } from './view';

/** Presses may miss by this much. */
export const REACH_PX = 9;
const HELD_STEP_RAD = Math.PI / 12;

export interface ToolState {
  readonly key: ToolKey | null;
  readonly state: unknown;
  /** Where the pointer is, as caught; null while it is off the sketch. */
  readonly pointer: PlanPoint | null;
  readonly caught: Catch | null;
  readonly typed: string;
  /** Why the typed entry could not be read. */
  readonly refusal: string;
  readonly isCatching: boolean;
  readonly isGridOn: boolean;
  readonly sizes: DrawingSizes;
}

export const useTool = create<ToolState>(() => ({
  key: null,
  state: null,
  pointer: null,
  caught: null,
  typed: '',
  refusal: '',
  isCatching: true,
  isGridOn: false,
  sizes: {
    walkWidthM: 4 * METRES_PER_FOOT,
    trunkRadiusM: 0.15,
    canopyRadiusM: 2.5,
    rootBallRadiusM: 0.3,
    obstacleRadiusM: 0.45,
    lineDepthM: 0.6,
    spotElevationM: 0,
    noteText: 'Note',
    giveM: 2.5 * METRES_PER_FOOT,
  },
}));

export function toolContext(): ToolContext {
  const desk = useDesk.getState();
  const plan = desk.history.plan;
  const taken = new Set<string>();
  return {
    plan,
    sizes: useTool.getState().sizes,
    selection: desk.selection,
    reachM: REACH_PX / useView.getState().view.pixelsPerM,
    routes: () => laidRoutes(),
    newId: (kind) => {
      const id = freeId(plan, ITEM_MAPS, kind, taken);
      taken.add(id);
      return id;
    },
  };
}

/** Takes up a tool; the same tool again begins afresh. */
export function takeUp(key: ToolKey): void {
  dropAttempt();
  useTool.setState({ key, state: TOOLS[key].begin(toolContext()), typed: '', refusal: '', caught: null });
}

/** Puts the tool away: back to choosing. Nothing half-drawn is left. */
export function putAway(): void {
  dropAttempt();
  useTool.setState({ key: null, state: null, typed: '', refusal: '', caught: null });
}

/** Hands an event to the tool under way and does what it asks. */
export function tell(event: ToolEvent): void {
  const { key, state } = useTool.getState();
  if (key === null) return;
  const context = toolContext();
  const step = TOOLS[key].take(state, event, context);
  if (step.command) {
    const before = new Set(ITEM_MAPS.flatMap((map) => Object.keys(context.plan[map])));
    if (!edit(step.command)) return;
    chooseWhatIsNew(before);
  }
  if (step.isOver) {
    putAway();
    return;
  }
  const next = step.isDone ? TOOLS[key].begin(toolContext()) : step.state;
  const trial = TOOLS[key].trial?.(next, context) ?? null;
  if (trial) attempt(trial);
  else dropAttempt();
  const said = event.kind === 'point' ? {} : { typed: '', refusal: step.refusal ?? '' };
  useTool.setState({ state: next, ...said });
}

function chooseWhatIsNew(before: ReadonlySet<string>): void {
  const { plan } = useDesk.getState().history;
  const fresh: ItemRef[] = ITEM_MAPS.flatMap((map) =>
    Object.keys(plan[map])
      .filter((id) => !before.has(id))
      .map((id) => ({ map, id })),
  );
  if (fresh.length > 0) useDesk.setState({ selection: fresh, corner: null });
}

/** Where the line under way comes from; null where the next place is free. */
export function lineOrigin(): PlanPoint | null {
  const { key, state } = useTool.getState();
  return key === null ? null : TOOLS[key].origin(state);
}

const LEADS_PIPE: ReadonlySet<ToolKey | null> = new Set<ToolKey | null>(['header', 'main', 'valve']);

/** What the pointer can catch now: what is drawn, and for valves and pipe led by hand also where pipe begins and ends. */
export function catchIndexNow(): CatchIndex {
  const { history, design, selection } = useDesk.getState();
  const { key } = useTool.getState();
  const isOfPipe = key === null ? selection[0]?.map === 'lockedPipes' : LEADS_PIPE.has(key);
  return isOfPipe && design ? catchIndexOf(history.plan, pipeEndsOf(design)) : catchIndexOf(history.plan);
}

/** A place as the pointer would take it: held to a direction, caught on what is drawn, or free. */
export function settlePlace(
  free: PlanPoint,
  how: { readonly isSuspended: boolean; readonly isHeld: boolean },
  accepts?: Parameters<typeof findCatch>[2]['accepts'],
): { readonly at: PlanPoint; readonly caught: Catch | null } {
  const { isCatching, isGridOn } = useTool.getState();
  const from = lineOrigin();
  const held = how.isHeld && from ? heldDirection(from, free, HELD_STEP_RAD) : free;
  if (how.isHeld || how.isSuspended || !isCatching) return { at: held, caught: null };
  const { index, isSmooth } = catchIndexNow();
  const reachM = REACH_PX / useView.getState().view.pixelsPerM;
  const gridM = isGridOn ? gridStepM() : null;
  const caught = findCatch(index, free, { reachM, from, gridM, isSmooth, ...(accepts ? { accepts } : {}) });
  return { at: caught?.at ?? free, caught };
}

/** A hand-sized step on the present scale, in whole units of the plan's system. */
export function gridStepM(): number {
  const { pixelsPerM } = useView.getState().view;
  const unitM = currentPrinter().system === 'us' ? METRES_PER_FOOT : 1;
  const steps = [1 / 12, 1 / 6, 0.5, 1, 2, 5, 10, 50].map((step) => step * unitM);
  return steps.find((step) => step * pixelsPerM >= 12) ?? 50 * unitM;
}

export function pointAt(
  free: PlanPoint,
  how: { readonly isSuspended: boolean; readonly isHeld: boolean },
): void {
  const { at, caught } = settlePlace(free, how);
  useTool.setState({ pointer: at, caught });
  tell({ kind: 'point', at });
}

/** Moves the hair by the keyboard: as far as the step, in sight. */
export function stepPointer(dx: number, dy: number): void {
  const { pointer } = useTool.getState();
  const start = pointer ?? lineOrigin() ?? { x: 0, y: 0 };
  const at = { x: start.x + dx, y: start.y + dy };
  useTool.setState({ pointer: at, caught: null });
  keepInSight(at);
  tell({ kind: 'point', at });
}

export function typeEntry(text: string): void {
  useTool.setState({ typed: text, refusal: '' });
}

function entryEvent(entry: Entry, lengthMeans: 'way' | 'size'): ToolEvent | null {
  if (entry.kind === 'size') return entry;
  if (entry.kind === 'place') return { kind: 'place', at: entry.at };
  if (entry.kind === 'length' && lengthMeans === 'size') return { kind: 'length', lengthM: entry.lengthM };
  const from = lineOrigin();
  if (!from) return null;
  const { pointer } = useTool.getState();
  const angleRad = entry.kind === 'way' ? entry.angleRad : pointer ? headingRad(from, pointer) : 0;
  return { kind: 'place', at: pointFrom(from, angleRad, entry.lengthM) };
}

/** Does what is written on the rule. With nothing written, Return places the hair, or ends a line on its last place. */
export function commitEntry(): void {
  const { key, state, typed, pointer } = useTool.getState();
  if (key === null) return;
  if (typed.trim() === '') {
    const from = lineOrigin();
    const isStill = pointer === null || (from !== null && from.x === pointer.x && from.y === pointer.y);
    if (isStill || key === 'tree' || key === 'boulder' || key === 'plant') {
      const isWaiting = (state as { name?: string } | null)?.name === 'waiting';
      if (isWaiting && pointer) tell({ kind: 'place', at: pointer });
      else tell({ kind: 'finish' });
    } else tell({ kind: 'place', at: pointer });
    return;
  }
  const read = readEntry(typed, currentPrinter().system);
  if (!read.ok) {
    const problem = read.problems[0];
    useTool.setState({ refusal: problem ? sayProblem(problem, currentPrinter()).what : '' });
    return;
  }
  const event = entryEvent(read.value, TOOLS[key].lengthMeans(state));
  if (event === null) {
    useTool.setState({ refusal: 'Place the first point before writing a length.' });
    return;
  }
  const placed = event.kind === 'place' ? event.at : null;
  tell(event);
  if (placed) useTool.setState({ pointer: placed, caught: null });
}

export function drawTrail(points: Polyline): void {
  tell({ kind: 'trail', points });
}

/** The plan whose lines are shown, for a tool that asks what lies under the hand. */
export const planInSight = () => shownPlan(useDesk.getState());
