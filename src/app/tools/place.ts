import type { PlanPoint } from '../../core/geometry';
import type { Command } from '../../core/plan';
import { NO_DRAFT, type Tool, type ToolContext } from './tool';

export interface PlaceState {
  readonly name: 'waiting';
}

/** A thing with nothing but a place. */
export function placeTool(
  prompt: string,
  build: (at: PlanPoint, context: ToolContext) => Command,
  isOnce = false,
): Tool<PlaceState> {
  return {
    begin: () => ({ name: 'waiting' }),
    take(state, event, context) {
      if (event.kind === 'place')
        return { state, command: build(event.at, context), isDone: true, isOver: isOnce };
      return event.kind === 'back' ? { state, isOver: true } : { state };
    },
    origin: () => null,
    lengthMeans: () => 'size',
    draft: () => NO_DRAFT,
    prompt: () => prompt,
  };
}
