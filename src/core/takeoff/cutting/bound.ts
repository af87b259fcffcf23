import { solve } from 'yalps';
import { bestFilling } from './knapsack';
import type { Pattern, Wanted } from './patterns';

const MOST_ROUNDS = 200;
/** A filling has to be worth this much more than its roll, relatively, to count as one the prices overlook. */
const WORTH_MORE_RATIO = 1e-9;

/** The least that can be bought, and the fillings that proved it. */
export interface CuttingBound {
  readonly leastMm: number;
  readonly patterns: readonly Pattern[];
}

/**
 * Least length of rolls that serves every piece, as a linear programme: prices for the pieces are raised as far as no
 * filling is worth more than its roll, and what all pieces are then worth is a bound. Fillings are found as they are
 * needed; prices not yet settled are scaled down to stay a bound.
 * Source: Gilmore and Gomory (1961), Operations Research 9:849; Farley (1990) for the bound before the end.
 *
 * @param rollsMm  lengths on sale, ascending
 */
export function leastBought(wanted: Wanted, rollsMm: readonly number[]): CuttingBound {
  const patterns: Pattern[] = singlePatterns(wanted, rollsMm);
  let leastMm = 0;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const prices = pricesFor(wanted, patterns);
    const fillings = rollsMm.map((rollMm) => ({ rollMm, ...bestFilling(wanted, prices, rollMm) }));
    const overRatio = Math.max(1, ...fillings.map(({ atMost, rollMm }) => atMost / rollMm));
    const worthMm = prices.reduce((sum, price, i) => sum + price * wanted.counts[i]!, 0);
    leastMm = Math.max(leastMm, worthMm / overRatio);
    const overlooked = fillings.filter(({ value, rollMm }) => value > rollMm * (1 + WORTH_MORE_RATIO));
    if (overlooked.length === 0) break;
    patterns.push(...overlooked.map(({ rollMm, pieces }) => ({ rollMm, pieces })));
  }
  return { leastMm: roundUpToRolls(leastMm, rollsMm), patterns };
}

/** The plainest bound: rolls are at least as long as the pieces together. No filling proves it. */
export function leastByLength(piecesMm: readonly number[], rollsMm: readonly number[]): CuttingBound {
  return {
    leastMm: roundUpToRolls(
      piecesMm.reduce((sum, length) => sum + length, 0),
      rollsMm,
    ),
    patterns: [],
  };
}

/** One filling a length and roll, so that every price has a limit from the start. */
function singlePatterns({ lengthsMm, counts }: Wanted, rollsMm: readonly number[]): Pattern[] {
  return rollsMm.flatMap((rollMm) =>
    lengthsMm.flatMap((length, i) => {
      const count = Math.min(counts[i]!, Math.floor(rollMm / length));
      return count === 0 ? [] : [{ rollMm, pieces: lengthsMm.map((_, k) => (k === i ? count : 0)) }];
    }),
  );
}

/** Highest prices under which no filling so far is worth more than its roll. */
function pricesFor(wanted: Wanted, patterns: readonly Pattern[]): readonly number[] {
  const constraints = patterns.map((pattern, p) => [`p${p}`, { max: pattern.rollMm }] as const);
  const variables = wanted.counts.map((count, i) => {
    const inPatterns = patterns.flatMap((pattern, p) =>
      pattern.pieces[i]! > 0 ? [[`p${p}`, pattern.pieces[i]!] as const] : [],
    );
    return [i, new Map<string, number>([['worth', count], ...inPatterns])] as const;
  });
  const solution = solve(
    { direction: 'maximize', objective: 'worth', constraints: new Map(constraints), variables },
    { checkCycles: true },
  );
  const prices = wanted.counts.map(() => 0);
  if (solution.status === 'optimal')
    for (const [i, price] of solution.variables) prices[i] = Math.max(0, price);
  return prices;
}

/** Greatest length that divides both. */
export const divisorOf = (a: number, b: number): number => (b === 0 ? a : divisorOf(b, a % b));

/** What is bought is a sum of whole rolls, so a bound between two such sums rises to the next multiple they share. */
function roundUpToRolls(boundMm: number, rollsMm: readonly number[]): number {
  const step = rollsMm.reduce(divisorOf);
  return Math.ceil(boundMm / step - 1e-6) * step;
}
