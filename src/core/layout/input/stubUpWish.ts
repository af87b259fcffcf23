import { distanceM, nearestOnSegment, type PlanPoint, pointBetween } from '../../geometry';
import type { Plan } from '../../plan';
import type { BedRing } from '../types';

/**
 * Where the pipe should come up at a bed when the designer has not said: on the outer edge nearest the valve, else
 * nearest the source; with neither drawn, the middle of the longest edge that is not paved or built against.
 * Null where the bed has no edge.
 */
export function wishedStubUp(plan: Plan, outer: BedRing): PlanPoint | null {
  const valves = Object.values(plan.valves).map((valve) => valve.at);
  const sources = Object.values(plan.sources).map((source) => source.at);
  const towards = valves.length > 0 ? valves : sources;
  return towards.length > 0 ? nearestEdgePoint(outer, towards) : longestFreeEdge(outer);
}

function nearestEdgePoint(outer: BedRing, towards: readonly PlanPoint[]): PlanPoint | null {
  let best: { at: PlanPoint; distanceM: number } | null = null;
  for (const goal of towards) {
    for (const [a, b] of sides(outer)) {
      const near = nearestOnSegment(goal, a, b);
      if (!best || near.distanceM < best.distanceM - 1e-9) best = near;
    }
  }
  return best ? best.at : null;
}

function longestFreeEdge(outer: BedRing): PlanPoint | null {
  let best: { at: PlanPoint; weight: number } | null = null;
  sides(outer).forEach(([a, b], index) => {
    const edgeClass = outer.edges[index]?.class ?? 'open';
    const isHard = edgeClass === 'paving' || edgeClass === 'foundation';
    const weight = distanceM(a, b) * (isHard ? 0.25 : 1);
    if (!best || weight > best.weight + 1e-9) best = { at: pointBetween(a, b, 0.5), weight };
  });
  return (best as { at: PlanPoint } | null)?.at ?? null;
}

function sides(outer: BedRing): [PlanPoint, PlanPoint][] {
  return outer.points.map((a, i) => [a, outer.points[(i + 1) % outer.points.length]!]);
}
