import { distanceM, inflatePath, type PlanPoint, type Polyline } from '../../core/geometry';
import type { Command } from '../../core/plan';
import { NO_DRAFT, type Tool, type ToolContext, type ToolRefusal, type ToolStep } from './tool';

export interface PathState {
  readonly name: 'waiting' | 'tracing';
  readonly points: readonly PlanPoint[];
  readonly pointer: PlanPoint | null;
}

/** Traces an open line: the centre of a walk, a fence, a buried line. Ended by Return on nothing, or a double press. */
export function pathTool(
  noun: string,
  build: (path: Polyline, context: ToolContext) => Command | ToolRefusal,
  widthOf: (context: ToolContext) => number = () => 0,
): Tool<PathState> {
  const end = (state: PathState, context: ToolContext): ToolStep<PathState> => {
    const built = build(state.points, context);
    return 'refusal' in built ? { state, refusal: built.refusal } : { state, command: built, isDone: true };
  };
  return {
    begin: () => ({ name: 'waiting', points: [], pointer: null }),
    take(state, event, context) {
      switch (event.kind) {
        case 'point':
          return { state: { ...state, pointer: event.at } };
        case 'place': {
          const before = state.points.at(-1);
          if (before && distanceM(before, event.at) < 1e-6) return { state };
          return { state: { name: 'tracing', points: [...state.points, event.at], pointer: event.at } };
        }
        case 'back': {
          if (state.points.length === 0) return { state, isOver: true };
          const points = state.points.slice(0, -1);
          return { state: { ...state, name: points.length === 0 ? 'waiting' : 'tracing', points } };
        }
        case 'finish':
          return state.points.length < 2 ? { state } : end(state, context);
        default:
          return { state };
      }
    },
    origin: (state) => state.points.at(-1) ?? null,
    lengthMeans: () => 'way',
    draft(state, context) {
      const from = state.points.at(-1);
      if (!from) return NO_DRAFT;
      const path = state.pointer ? [...state.points, state.pointer] : state.points;
      const halfM = widthOf(context) / 2;
      const sides = halfM > 0 && path.length > 1 ? inflatePath(path, halfM) : [];
      const lines = [
        { points: state.points, isClosed: false, style: 'sure' as const },
        ...sides.map((points) => ({ points, isClosed: true, style: 'open' as const })),
      ];
      if (!state.pointer) return { lines, corners: state.points, measures: [] };
      return {
        lines: [...lines, { points: [from, state.pointer], isClosed: false, style: 'open' as const }],
        corners: state.points,
        measures: [{ from, to: state.pointer, isTyped: true }],
      };
    },
    prompt: (state) =>
      state.name === 'waiting'
        ? `Place where the ${noun} begins.`
        : `Place the next bend of the ${noun}, or press Return to end it.`,
  };
}
