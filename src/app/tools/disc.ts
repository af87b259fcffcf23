import { circlePoints, distanceM, type PlanPoint } from '../../core/geometry';
import type { Command } from '../../core/plan';
import { NO_DRAFT, type Tool, type ToolContext } from './tool';

export type DiscState =
  | { readonly name: 'waiting' }
  | { readonly name: 'spreading'; readonly centre: PlanPoint; readonly pointer: PlanPoint };

/** A round thing: its middle, then how far it spreads, by a place or a typed radius; Return keeps the size on the page. */
export function discTool(
  noun: string,
  spread: string,
  sizeOf: (context: ToolContext) => number,
  build: (centre: PlanPoint, radiusM: number, context: ToolContext) => Command,
): Tool<DiscState> {
  const end = (centre: PlanPoint, radiusM: number, context: ToolContext) => ({
    state: { name: 'waiting' } as const,
    command: build(centre, radiusM, context),
    isDone: true,
  });
  return {
    begin: () => ({ name: 'waiting' }),
    take(state, event, context) {
      if (state.name === 'waiting') {
        if (event.kind === 'place')
          return { state: { name: 'spreading', centre: event.at, pointer: event.at } };
        return event.kind === 'back' ? { state, isOver: true } : { state };
      }
      switch (event.kind) {
        case 'point':
          return { state: { ...state, pointer: event.at } };
        case 'place': {
          const radiusM = distanceM(state.centre, event.at);
          return end(state.centre, radiusM < context.reachM ? sizeOf(context) : radiusM, context);
        }
        case 'length':
          return event.lengthM > 0 ? end(state.centre, event.lengthM, context) : { state };
        case 'finish':
          return end(state.centre, sizeOf(context), context);
        case 'back':
          return { state: { name: 'waiting' } };
        default:
          return { state };
      }
    },
    origin: () => null,
    lengthMeans: () => 'size',
    draft(state, context) {
      if (state.name === 'waiting') return NO_DRAFT;
      const away = distanceM(state.centre, state.pointer);
      const radiusM = away < context.reachM ? sizeOf(context) : away;
      return {
        lines: [{ points: circlePoints(state.centre, radiusM, 0.01), isClosed: true, style: 'open' }],
        corners: [state.centre],
        measures: away < context.reachM ? [] : [{ from: state.centre, to: state.pointer, isTyped: true }],
      };
    },
    prompt: (state) =>
      state.name === 'waiting'
        ? `Place the middle of the ${noun}.`
        : `Place the edge of ${spread}, write its radius, or press Return.`,
  };
}
