import type { PlanPoint } from '../../core/geometry';
import type { Command } from '../../core/plan';
import { NO_DRAFT, type Tool, type ToolContext } from './tool';

export type TwoPointState =
  | { readonly name: 'waiting' }
  | { readonly name: 'reaching'; readonly from: PlanPoint; readonly pointer: PlanPoint };

/** Two places and what follows from them: a move, a copy, a turn, a mirror line, a dimension. */
export function twoPointTool(
  prompts: { readonly first: string; readonly second: string },
  build: (from: PlanPoint, to: PlanPoint, context: ToolContext) => Command | null,
  isTried = false,
): Tool<TwoPointState> {
  return {
    ...(isTried
      ? {
          trial: (state: TwoPointState, context: ToolContext) =>
            state.name === 'reaching' ? build(state.from, state.pointer, context) : null,
        }
      : {}),
    begin: () => ({ name: 'waiting' }),
    take(state, event, context) {
      if (event.kind === 'back')
        return state.name === 'waiting' ? { state, isOver: true } : { state: { name: 'waiting' } };
      if (event.kind === 'point')
        return state.name === 'reaching' ? { state: { ...state, pointer: event.at } } : { state };
      if (event.kind !== 'place') return { state };
      if (state.name !== 'reaching')
        return { state: { name: 'reaching', from: event.at, pointer: event.at } };
      const command = build(state.from, event.at, context);
      return command === null
        ? { state: { name: 'waiting' } }
        : { state: { name: 'waiting' }, command, isDone: true, isOver: true };
    },
    origin: (state) => (state.name === 'reaching' ? state.from : null),
    lengthMeans: () => 'way',
    draft(state) {
      if (state.name === 'waiting') return NO_DRAFT;
      return {
        lines: [{ points: [state.from, state.pointer], isClosed: false, style: 'open' }],
        corners: [state.from],
        measures: [{ from: state.from, to: state.pointer, isTyped: true }],
      };
    },
    prompt: (state) => (state.name === 'reaching' ? prompts.second : prompts.first),
  };
}
