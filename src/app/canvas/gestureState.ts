import { create } from 'zustand';
import type { Catch } from '../../core/geometry';
import { useTool } from '../state/tools';
import type { Gesture } from './gesture';

/** The gesture of choosing under way, so that its box or lasso can be drawn. */
export const useGesture = create<{ readonly gesture: Gesture | null }>(() => ({ gesture: null }));

/** What the hand has caught, drawing or dragging a corner. */
export function useCaught(): Catch | null {
  const drawn = useTool((state) => (state.key === null ? null : state.caught));
  const dragged = useGesture(({ gesture }) => gesture?.caught ?? null);
  return drawn ?? dragged;
}
