import type { PlanPoint } from '../geometry';
import type { Plan } from '../plan';
import { drawingWords as words } from '../words';

/** Compass bearing of the plan's +y, radians; 0 where the plan is not georeferenced. */
export const bearingOf = (plan: Plan): number => plan.georeference?.bearingRad ?? 0;

/** The name of the eighth of the compass a direction points to. `headingRad` anticlockwise from the plan's east. */
export function compassName(plan: Plan, headingRad: number): string {
  const bearing = bearingOf(plan) + Math.PI / 2 - headingRad;
  const eighth = Math.round(bearing / (Math.PI / 4));
  return words.compass[((eighth % 8) + 8) % 8]!;
}

/** The direction from one point to another. */
export const headingBetween = (from: PlanPoint, to: PlanPoint): number =>
  Math.atan2(to.y - from.y, to.x - from.x);
