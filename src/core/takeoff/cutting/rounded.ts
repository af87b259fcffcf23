import { solve } from 'yalps';
import type { Pattern, Wanted } from './patterns';

/** Whole rolls cut by the best fillings, and what is still wanted after them. */
export interface RoundedDown {
  readonly patterns: readonly Pattern[];
  readonly rest: Wanted;
}

/**
 * How often the linear programme would cut each filling, rounded down: where many pieces are alike this serves most of
 * them without loss, and leaves little to search for.
 * Source: Gilmore and Gomory (1961), Operations Research 9:849.
 */
export function roundDown(wanted: Wanted, pool: readonly Pattern[]): RoundedDown | null {
  const solution = solve(
    {
      direction: 'minimize',
      objective: 'bought',
      constraints: new Map(wanted.counts.map((count, i) => [`n${i}`, { min: count }])),
      variables: pool.map((pattern, p) => {
        const pieces = pattern.pieces.flatMap((count, i) => (count > 0 ? [[`n${i}`, count] as const] : []));
        return [p, new Map<string, number>([['bought', pattern.rollMm / 1000], ...pieces])] as const;
      }),
    },
    { checkCycles: true },
  );
  if (solution.status !== 'optimal') return null;
  const left = [...wanted.counts];
  const patterns: Pattern[] = [];
  for (const [p, times] of solution.variables) {
    const pattern = pool[p]!;
    for (let n = 0; n < Math.floor(times + 1e-6); n++) {
      if (pattern.pieces.some((count, i) => count > left[i]!)) break;
      for (const [i, count] of pattern.pieces.entries()) left[i]! -= count;
      patterns.push(pattern);
    }
  }
  return patterns.length === 0 ? null : { patterns, rest: { lengthsMm: wanted.lengthsMm, counts: left } };
}
