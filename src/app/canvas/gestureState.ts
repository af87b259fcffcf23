import { create } from 'zustand';
import type { Gesture } from './gesture';

/** The gesture of choosing under way, so that its box or lasso can be drawn. */
export const useGesture = create<{ readonly gesture: Gesture | null }>(() => ({ gesture: null }));
