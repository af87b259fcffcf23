import type { Join } from '../types';
import { type LaidRun, pointToLengthM } from './pieces';

/** A fitting lies on its tubing within this: ends are rounded to the grid, to either side of what they meet. */
const AT_FITTING_M = 0.002;

/** What is wrong with how tubing is joined. */
export interface Feeding {
  /** Ends of tubing that meet no fitting. */
  readonly looseEnds: number;
  /** Runs that no chain of fittings joins to a lead or a tee at a stub-up. */
  readonly unfedRuns: number;
  /** Fittings that lie off the tubing they are said to join. */
  readonly strayFittings: number;
}

interface Place {
  readonly x: number;
  readonly y: number;
}

const isAt = (a: Place, b: Place): boolean => Math.hypot(a.x - b.x, a.y - b.y) <= AT_FITTING_M;

function liesOn(join: Place, run: LaidRun): boolean {
  return run.path.some((b, i) => {
    const a = run.path[Math.max(0, i - 1)]!;
    return pointToLengthM(join.x, join.y, a.x, a.y, b.x, b.y) <= AT_FITTING_M;
  });
}

/**
 * Follows the water from every lead and every tee at a stub-up through the fittings. A lead begins where the water comes
 * up, so its first point needs no fitting; every other open end does.
 */
export function followFeeding(runs: readonly LaidRun[], joins: readonly Join[]): Feeding {
  const byId = new Map(runs.map((run) => [run.id, run]));
  const strayFittings = joins.filter((join) =>
    join.runIds.some((id) => {
      const run = byId.get(id);
      return run === undefined || !liesOn(join, run);
    }),
  ).length;
  const joinsOf = new Map<string, Join[]>();
  for (const join of joins) for (const id of join.runIds) joinsOf.set(id, [...(joinsOf.get(id) ?? []), join]);
  const looseEnds = runs.reduce((count, run) => {
    if (run.closed) return count;
    const ends = run.role === 'lead' ? [run.path.at(-1)!] : [run.path[0]!, run.path.at(-1)!];
    const own = joinsOf.get(run.id) ?? [];
    return count + ends.filter((end) => !own.some((join) => isAt(join, end))).length;
  }, 0);
  const reached = new Set(runs.filter((run) => run.role === 'lead').map((run) => run.id));
  for (const join of joins)
    if (join.runIds.length === 1 && (join.fitting === 'stub-up-tee' || join.fitting === 'coupling'))
      reached.add(join.runIds[0]!);
  const waiting = [...reached];
  while (waiting.length > 0)
    for (const join of joinsOf.get(waiting.pop()!) ?? [])
      for (const id of join.runIds) {
        if (reached.has(id)) continue;
        reached.add(id);
        waiting.push(id);
      }
  return { looseEnds, strayFittings, unfedRuns: runs.filter((run) => !reached.has(run.id)).length };
}
