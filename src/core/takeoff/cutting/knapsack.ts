import type { Wanted } from './patterns';

/** The most valuable filling found, and a value that no filling exceeds; equal where the search was finished. */
export interface BestFilling {
  readonly pieces: readonly number[];
  readonly value: number;
  readonly atMost: number;
}

/** Steps after which the search settles for its bound. Far above what tubing needs. */
const MOST_STEPS = 50_000;

/**
 * Fills one roll for the greatest value, each length at most as often as it is wanted: branch and bound on value a
 * millimetre. Source: Martello and Toth, Knapsack Problems (1990), bounded knapsack, from memory.
 *
 * @param values  worth of one piece of each length, >= 0
 */
export function bestFilling(wanted: Wanted, values: readonly number[], rollMm: number): BestFilling {
  const { lengthsMm, counts } = wanted;
  const worthFirst = lengthsMm
    .map((_, i) => i)
    .filter((i) => values[i]! > 0)
    .sort((a, b) => values[b]! / lengthsMm[b]! - values[a]! / lengthsMm[a]! || a - b);
  const pieces = lengthsMm.map(() => 0);
  let best = { pieces: [...pieces], value: 0 };
  let steps = 0;
  let openBound = 0;

  const boundFrom = (at: number, leftMm: number): number => {
    let bound = 0;
    let left = leftMm;
    for (let k = at; k < worthFirst.length && left > 0; k++) {
      const i = worthFirst[k]!;
      const taken = Math.min(counts[i]!, left / lengthsMm[i]!);
      bound += taken * values[i]!;
      left -= taken * lengthsMm[i]!;
    }
    return bound;
  };
  const fill = (at: number, leftMm: number, value: number): void => {
    if (value > best.value) best = { pieces: [...pieces], value };
    const bound = value + boundFrom(at, leftMm);
    if (at === worthFirst.length || bound <= best.value + 1e-12) return;
    if (++steps > MOST_STEPS) {
      openBound = Math.max(openBound, bound);
      return;
    }
    const i = worthFirst[at]!;
    for (let count = Math.min(counts[i]!, Math.floor(leftMm / lengthsMm[i]!)); count >= 0; count--) {
      pieces[i] = count;
      fill(at + 1, leftMm - count * lengthsMm[i]!, value + count * values[i]!);
    }
    pieces[i] = 0;
  };
  fill(0, rollMm, 0);
  return { ...best, atMost: Math.max(best.value, openBound) };
}
