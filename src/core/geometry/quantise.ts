import { GRID_STEPS_PER_M } from './tolerance';
import type { PlanPoint } from './types';

/** A coordinate in metres rounded to the 0.1 mm grid. Minus zero becomes zero, so that equal plans print equal digits. */
export function quantise(valueM: number): number {
  return Math.round(valueM * GRID_STEPS_PER_M) / GRID_STEPS_PER_M + 0;
}

/** A point rounded to the 0.1 mm grid. */
export function quantisePoint(point: PlanPoint): PlanPoint {
  return { x: quantise(point.x), y: quantise(point.y) };
}

/** A chain or ring rounded to the 0.1 mm grid, points that fall together kept once. */
export function quantisePoints(points: readonly PlanPoint[]): PlanPoint[] {
  const kept: PlanPoint[] = [];
  for (const point of points) {
    const next = quantisePoint(point);
    const last = kept.at(-1);
    if (!last || last.x !== next.x || last.y !== next.y) kept.push(next);
  }
  return kept;
}
