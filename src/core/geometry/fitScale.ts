import type { PlanPoint } from './types';
import { distanceM } from './vector';

/** A picture or any grid of squares lying on the plan: its own corner and the plan metres of one of its steps. */
export interface LyingGrid {
  readonly originX: number;
  readonly originY: number;
  readonly metresPerPixel: number;
}

/**
 * A lying grid scaled about one of its points, so that two points of it come to stand the true distance apart; the first
 * point stays where it is. Null where the two points are one, or the distance is not above 0.
 */
export function scaledToDistance<G extends LyingGrid>(
  grid: G,
  held: PlanPoint,
  other: PlanPoint,
  trueM: number,
): LyingGrid | null {
  const drawnM = distanceM(held, other);
  if (drawnM === 0 || !(trueM > 0)) return null;
  const ratio = trueM / drawnM;
  return {
    originX: held.x + (grid.originX - held.x) * ratio,
    originY: held.y + (grid.originY - held.y) * ratio,
    metresPerPixel: grid.metresPerPixel * ratio,
  };
}
