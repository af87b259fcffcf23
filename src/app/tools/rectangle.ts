import { type PlanPoint, type Ring, rectangleRing } from '../../core/geometry';
import type { Command } from '../../core/plan';
import { NO_DRAFT, type Tool, type ToolContext } from './tool';

export type RectangleState =
  | { readonly name: 'waiting'; readonly pointer: PlanPoint | null }
  | { readonly name: 'stretching'; readonly corner: PlanPoint; readonly pointer: PlanPoint };

/** A rectangle between two opposite corners; the second may be typed as a size. */
export function rectangleTool(
  noun: string,
  build: (ring: Ring, context: ToolContext) => Command,
): Tool<RectangleState> {
  const between = (corner: PlanPoint, opposite: PlanPoint, context: ToolContext) => {
    const isFlat = corner.x === opposite.x || corner.y === opposite.y;
    const stretching = { name: 'stretching', corner, pointer: opposite } as const;
    return isFlat
      ? { state: stretching }
      : { state: stretching, command: build(rectangleRing(corner, opposite), context), isDone: true };
  };
  return {
    begin: () => ({ name: 'waiting', pointer: null }),
    take(state, event, context) {
      switch (event.kind) {
        case 'point':
          return { state: { ...state, pointer: event.at } };
        case 'place':
          return state.name === 'waiting'
            ? { state: { name: 'stretching', corner: event.at, pointer: event.at } }
            : between(state.corner, event.at, context);
        case 'size': {
          const corner = state.name === 'stretching' ? state.corner : (state.pointer ?? { x: 0, y: 0 });
          return between(corner, { x: corner.x + event.eastM, y: corner.y + event.northM }, context);
        }
        case 'back':
          return state.name === 'stretching'
            ? { state: { name: 'waiting', pointer: state.pointer } }
            : { state, isOver: true };
        default:
          return { state };
      }
    },
    origin: (state) => (state.name === 'stretching' ? state.corner : null),
    lengthMeans: () => 'way',
    draft(state) {
      if (state.name === 'waiting') return NO_DRAFT;
      const ring = rectangleRing(state.corner, state.pointer);
      const [a, b, c] = ring;
      if (!a || !b || !c) return NO_DRAFT;
      return {
        lines: [{ points: ring, isClosed: true, style: 'open' }],
        corners: [state.corner],
        measures: [
          { from: a, to: b, isTyped: false },
          { from: b, to: c, isTyped: false },
        ],
      };
    },
    prompt: (state) =>
      state.name === 'waiting'
        ? `Place one corner of the ${noun}, or write its size: 12'6 x 20'.`
        : `Place the opposite corner, or write the size: 12'6 x 20'.`,
  };
}
