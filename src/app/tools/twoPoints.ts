import type { PlanPoint } from '../../core/geometry';
import type { Command } from '../../core/plan';
import { NO_DRAFT, type Tool, type ToolContext } from './tool';

export type TwoPointState =
  | { readonly name: 'waiting' }
  | { readonly name: 'reaching'; readonly from: PlanPoint; readonly pointer: PlanPoint }
  | { readonly name: 'shown'; readonly from: PlanPoint; readonly to: PlanPoint };

/** Two places and what follows from them: a measured length, a move, a copy, a turn, a mirror line, a dimension. */
export function twoPointTool(
  prompts: { readonly first: string; readonly second: string },
  build: ((from: PlanPoint, to: PlanPoint, context: ToolContext) => Command | null) | null,
): Tool<TwoPointState> {
  return {
    begin: () => ({ name: 'waiting' }),
    take(state, event, context) {
      if (event.kind === 'back')
        return state.name === 'waiting' ? { state, isOver: true } : { state: { name: 'waiting' } };
      if (event.kind === 'point')
        return state.name === 'reaching' ? { state: { ...state, pointer: event.at } } : { state };
      if (event.kind !== 'place') return { state };
      if (state.name !== 'reaching')
        return { state: { name: 'reaching', from: event.at, pointer: event.at } };
      if (build === null) return { state: { name: 'shown', from: state.from, to: event.at } };
      const command = build(state.from, event.at, context);
      return command === null
        ? { state: { name: 'waiting' } }
        : { state: { name: 'waiting' }, command, isDone: true, isOver: true };
    },
    origin: (state) => (state.name === 'reaching' ? state.from : null),
    lengthMeans: () => 'way',
    draft(state) {
      if (state.name === 'waiting') return NO_DRAFT;
      const to = state.name === 'shown' ? state.to : state.pointer;
      return {
        lines: [
          { points: [state.from, to], isClosed: false, style: state.name === 'shown' ? 'sure' : 'open' },
        ],
        corners: state.name === 'shown' ? [state.from, to] : [state.from],
        measures: [{ from: state.from, to, isTyped: state.name === 'reaching' }],
      };
    },
    prompt: (state) => (state.name === 'reaching' ? prompts.second : prompts.first),
  };
}
