import type { Solution } from '../hydraulics';
import type { ZoneNetwork } from './network';

/** Less than this is still water: the search's own last digits. */
const STILL_M3S = 1e-11;

/**
 * Where the two flows of a loop meet, as a distance along the run, m: the place its water turns from running with the path
 * to running against it. What settles, settles there, so there the flush valve does most.
 *
 * @returns null where the run's water runs one way only (a dead end, a run fed through)
 */
export function flowsMeetAtM(zone: ZoneNetwork, solution: Solution, runId: string): number | null {
  const flowOf = new Map(zone.network.links.map(({ id }, index) => [id, solution.flowM3s[index]!]));
  const pieces = zone.tubing
    .flatMap(({ pieces: own }) => own)
    .filter((piece) => piece.runId === runId)
    .sort((a, b) => a.fromM - b.fromM);
  let before: { readonly toM: number } | null = null;
  for (const piece of pieces) {
    const flowM3s = flowOf.get(piece.linkId) ?? 0;
    if (flowM3s < -STILL_M3S && before) return before.toM;
    if (flowM3s > STILL_M3S) before = piece;
  }
  return null;
}
