import { nearestOnPath, type PlanPoint, type Polyline, pullPath } from '../../core/geometry';
import type { Bed, Command } from '../../core/plan';
import { NO_DRAFT, type Tool, type ToolContext } from './tool';

type LockedRun = NonNullable<Bed['lockedRoute']>[number];

/** The tubing of a bed as it lies now, run by run. */
export interface LaidRoute {
  readonly bedId: string;
  readonly runs: readonly LockedRun[];
}

export type PullState =
  | { readonly name: 'waiting' }
  | {
      readonly name: 'pulling';
      readonly route: LaidRoute;
      readonly runIndex: number;
      readonly alongM: number;
      readonly from: PlanPoint;
      readonly pointer: PlanPoint;
    };

type Pulling = Extract<PullState, { name: 'pulling' }>;

/** Points of the part that gives way stand this far apart: near enough for a smooth bend at any print scale. */
const STEP_M = 0.05;

/** Tubing of an older plan cannot be taken hold of: pulled, it would be kept where it fits no longer. */
const NO_TUBING =
  'No tubing stands here: press nearer to it, or wait until it is laid for the plan as it is.';

/** The tubing under a press, the nearest where several are in reach. */
function takeHold(at: PlanPoint, context: ToolContext): Pulling | null {
  let best: { readonly hold: Pulling; readonly distanceM: number } | null = null;
  for (const route of context.routes()) {
    for (const [runIndex, run] of route.runs.entries()) {
      const near = nearestOnPath(at, run.path);
      if (near.distanceM > 2 * context.reachM || (best && near.distanceM >= best.distanceM)) continue;
      const hold: Pulling = {
        name: 'pulling',
        route,
        runIndex,
        alongM: near.alongM,
        from: near.at,
        pointer: near.at,
      };
      best = { hold, distanceM: near.distanceM };
    }
  }
  return best?.hold ?? null;
}

function pulled(state: Pulling, context: ToolContext): Polyline {
  const run = state.route.runs[state.runIndex];
  if (!run) return [];
  return pullPath(run.path, {
    alongM: state.alongM,
    dx: state.pointer.x - state.from.x,
    dy: state.pointer.y - state.from.y,
    reachM: context.sizes.giveM,
    stepM: STEP_M,
  });
}

/** The bed with its route kept as pulled: from then on it is the designer's, and checked like any other. */
function keepPulled(state: Pulling, context: ToolContext): Command {
  const lockedRoute = state.route.runs.map((run, index) => ({
    ...run,
    path: (index === state.runIndex ? pulled(state, context) : run.path).map(({ x, y }) => ({ x, y })),
  }));
  return { name: 'set-bed', params: { id: state.route.bedId, changes: { lockedRoute } } };
}

/** Takes hold of laid tubing and pulls it aside; it gives way as soft tubing does, and the route stays so. */
export const pullTool: Tool<PullState> = {
  begin: () => ({ name: 'waiting' }),
  take(state, event, context) {
    if (event.kind === 'back')
      return state.name === 'waiting' ? { state, isOver: true } : { state: { name: 'waiting' } };
    if (state.name === 'waiting') {
      if (event.kind !== 'place') return { state };
      const hold = takeHold(event.at, context);
      return hold === null ? { state, refusal: NO_TUBING } : { state: hold };
    }
    if (event.kind === 'point') return { state: { ...state, pointer: event.at } };
    if (event.kind !== 'place') return { state };
    const placed = { ...state, pointer: event.at };
    return { state: { name: 'waiting' }, command: keepPulled(placed, context), isDone: true };
  },
  trial: (state, context) => (state.name === 'pulling' ? keepPulled(state, context) : null),
  origin: (state) => (state.name === 'pulling' ? state.from : null),
  lengthMeans: () => 'way',
  draft(state, context) {
    if (state.name === 'waiting') return NO_DRAFT;
    return {
      lines: [{ points: pulled(state, context), isClosed: false, style: 'open' }],
      corners: [state.pointer],
      measures: [{ from: state.from, to: state.pointer, isTyped: true }],
    };
  },
  prompt: (state) =>
    state.name === 'waiting'
      ? 'Place the hair on the tubing to take hold of it.'
      : 'Place where it goes, or write a length and a direction: 3 in at 90.',
};
