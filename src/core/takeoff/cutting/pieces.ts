import { nearestOnPath } from '../../geometry';
import type { Join, Run } from '../../layout';

/** A splice is kept this far from every tee: two feet. Common practice, no source. */
export const SPLICE_FROM_TEE_M = 0.6096;
/** A join lies on a run if it is within the grid of the drawing of it. */
const ON_RUN_M = 0.005;

/** A stretch of a run that is cut from one roll. */
export interface Piece {
  readonly runId: string;
  readonly fromM: number;
  readonly toM: number;
  readonly spliceAtEnd: boolean;
}

/** The pieces of one run; `isNearTee` where no splice could keep its distance. */
export interface SplitRun {
  readonly pieces: readonly Piece[];
  readonly isNearTee: boolean;
}

/** Distances along a run at which other tubing or a fitting meets it, its two ends included. */
export function joinsAlongM(run: Run, joins: readonly Join[]): readonly number[] {
  const met = joins
    .filter((join) => join.runIds.includes(run.id))
    .map((join) => nearestOnPath(join, run.path))
    .filter((near) => near.distanceM <= ON_RUN_M)
    .map((near) => near.alongM);
  return [0, run.lengthM, ...met].sort((a, b) => a - b);
}

/**
 * Splits a run into the fewest pieces that the longest roll allows, each splice two feet or more from every join.
 * Putting each splice as far along as it may go is never beaten in number of splices: any other choice stays behind it.
 *
 * @param longestM  longest stretch one roll lays, waste taken off, > 0
 */
export function splitRun(run: Run, joins: readonly Join[], longestM: number): SplitRun {
  const keepOffM = joinsAlongM(run, joins);
  const pieces: Piece[] = [];
  let fromM = 0;
  let isNearTee = false;
  while (run.lengthM - fromM > longestM) {
    const wantedM = Math.min(fromM + longestM, run.lengthM - SPLICE_FROM_TEE_M);
    const freeM = lastFreeSpot(wantedM, fromM, keepOffM);
    isNearTee ||= freeM === null;
    const toM = freeM ?? fromM + longestM;
    pieces.push({ runId: run.id, fromM, toM, spliceAtEnd: true });
    fromM = toM;
  }
  pieces.push({ runId: run.id, fromM, toM: run.lengthM, spliceAtEnd: false });
  return { pieces, isNearTee };
}

/** The spot nearest before `wantedM` that keeps its distance from every join, or null where there is none after `fromM`. */
function lastFreeSpot(wantedM: number, fromM: number, joinsM: readonly number[]): number | null {
  let spotM = wantedM;
  for (const joinM of [...joinsM].reverse()) {
    if (Math.abs(spotM - joinM) < SPLICE_FROM_TEE_M) spotM = joinM - SPLICE_FROM_TEE_M;
  }
  return spotM > fromM ? spotM : null;
}
