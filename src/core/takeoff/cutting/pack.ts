import { type CuttingBound, divisorOf, leastBought, leastByLength } from './bound';
import { type Group, MOST_EXACT_PIECES, packExactly } from './exact';
import { improvePacking } from './improve';
import { type Pattern, usedMm, type Wanted, wantedOf } from './patterns';
import { type RoundedDown, roundDown } from './rounded';
import { packWithin } from './search';

/** Rolls to buy and which pieces each serves. Lengths in whole millimetres, so that nothing hangs on a rounding. */
export interface Packing {
  readonly rolls: readonly { readonly lengthMm: number; readonly pieces: readonly number[] }[];
  readonly boughtMm: number;
  /** No choice of whole rolls buys less. */
  readonly leastMm: number;
  readonly isProven: boolean;
}

/** Different lengths up to which the bound is worked out by prices and every total is searched: beyond it takes minutes. */
const MOST_LENGTHS_WEIGHED = 60;

const total = (numbers: readonly number[]): number => numbers.reduce((sum, n) => sum + n, 0);
const boughtBy = (patterns: readonly Pattern[]): number => total(patterns.map((pattern) => pattern.rollMm));

/**
 * Chooses whole rolls for pieces that are each cut from one roll, with the least length bought.
 * A bound says what the least could be. Where longest-first filling misses it, few pieces are weighed in every way;
 * many are bettered a few rolls at a time, and then totals from the bound up are each either reached or shown
 * impossible, until one is reached or the search runs out of its count. Of more lengths than `MOST_LENGTHS_WEIGHED` the
 * bettered filling is taken as it is, held against the bound that no choice buys less than the pieces are long.
 *
 * @param piecesMm  whole millimetres, each > 0 and no longer than the longest roll
 * @param rollsMm   lengths on sale, ascending, each in any number
 */
export function packPieces(piecesMm: readonly number[], rollsMm: readonly number[]): Packing {
  if (piecesMm.length === 0) return { rolls: [], boughtMm: 0, leastMm: 0, isProven: true };
  const wanted = wantedOf(piecesMm);
  const isMany = wanted.lengthsMm.length > MOST_LENGTHS_WEIGHED;
  const bound = isMany ? leastByLength(piecesMm, rollsMm) : leastBought(wanted, rollsMm);
  const start = assign(longestFirst(wanted, rollsMm), piecesMm, wanted);
  if (piecesMm.length <= MOST_EXACT_PIECES && rollLength(start) > bound.leastMm) {
    const exact = packExactly(piecesMm, rollsMm);
    return packingOf(exact, rollLength(exact));
  }
  const improved = improvePacking(piecesMm, start, rollsMm, bound.leastMm);
  return rollLength(improved) > bound.leastMm && !isMany
    ? searchUpwards(piecesMm, rollsMm, wanted, bound, improved)
    : packingOf(improved, bound.leastMm);
}

/** Totals from the bound up, each either reached or shown impossible, until one is reached or the search runs out. */
function searchUpwards(
  piecesMm: readonly number[],
  rollsMm: readonly number[],
  wanted: Wanted,
  bound: CuttingBound,
  known: readonly Group[],
): Packing {
  let { leastMm } = bound;
  const rounded = roundDown(wanted, bound.patterns);
  const step = rollsMm.reduce(divisorOf);
  let isStillProving = true;
  for (let targetMm = leastMm; targetMm < rollLength(known); targetMm += step) {
    const finished = rounded && finish(rounded, rollsMm, targetMm);
    if (finished) return packingOf(assign(finished, piecesMm, wanted), leastMm);
    const result = packWithin(wanted, rollsMm, targetMm - total(piecesMm));
    if (result.kind === 'found') return packingOf(assign(result.patterns, piecesMm, wanted), leastMm);
    isStillProving &&= result.kind === 'impossible';
    if (isStillProving) leastMm = targetMm + step;
  }
  return packingOf(known, leastMm);
}

const rollLength = (groups: readonly Group[]): number => total(groups.map((group) => group.rollMm));

const packingOf = (groups: readonly Group[], leastMm: number): Packing => ({
  rolls: groups.map(({ rollMm, pieces }) => ({ lengthMm: rollMm, pieces })),
  boughtMm: rollLength(groups),
  leastMm,
  isProven: rollLength(groups) <= leastMm,
});

/** The rounded rolls and a search for the rest, within what may be bought in all; null where none is found. */
function finish(
  { patterns, rest }: RoundedDown,
  rollsMm: readonly number[],
  targetMm: number,
): readonly Pattern[] | null {
  const restMm = rest.lengthsMm.reduce((sum, length, i) => sum + length * rest.counts[i]!, 0);
  const result = packWithin(rest, rollsMm, targetMm - boughtBy(patterns) - restMm);
  return result.kind === 'found' ? [...patterns, ...result.patterns] : null;
}

function shortestRollFor(lengthMm: number, rollsMm: readonly number[]): number {
  return rollsMm.find((roll) => roll >= lengthMm) ?? rollsMm.at(-1)!;
}

/** Longest piece first into the fullest roll that takes it, once for each length on sale; the cheapest of them. */
function longestFirst(wanted: Wanted, rollsMm: readonly number[]): readonly Pattern[] {
  const tries = rollsMm
    .filter((rollMm) => rollMm >= wanted.lengthsMm[0]!)
    .map((rollMm) => fillLongestFirst(wanted, rollMm, rollsMm));
  return tries.reduce((best, one) => (boughtBy(one) < boughtBy(best) ? one : best));
}

function fillLongestFirst(
  wanted: Wanted,
  capacityMm: number,
  rollsMm: readonly number[],
): readonly Pattern[] {
  const open: { pieces: number[]; leftMm: number }[] = [];
  for (const [i, lengthMm] of wanted.lengthsMm.entries()) {
    for (let n = 0; n < wanted.counts[i]!; n++) {
      let best: (typeof open)[number] | null = null;
      for (const roll of open) {
        if (roll.leftMm >= lengthMm && (!best || roll.leftMm < best.leftMm)) best = roll;
      }
      if (!best) {
        best = { pieces: wanted.lengthsMm.map(() => 0), leftMm: capacityMm };
        open.push(best);
      }
      best.pieces[i]!++;
      best.leftMm -= lengthMm;
    }
  }
  return open.map(({ pieces }) => shrunk({ rollMm: capacityMm, pieces }, wanted, rollsMm));
}

/** The same filling in the shortest roll that takes it. */
const shrunk = (pattern: Pattern, wanted: Wanted, rollsMm: readonly number[]): Pattern => ({
  ...pattern,
  rollMm: shortestRollFor(usedMm(pattern, wanted), rollsMm),
});

/** Gives the pieces, in their order, to the fillings. */
function assign(patterns: readonly Pattern[], piecesMm: readonly number[], wanted: Wanted): readonly Group[] {
  const waiting = new Map<number, number[]>(wanted.lengthsMm.map((length) => [length, []]));
  for (const [piece, length] of piecesMm.entries()) waiting.get(length)!.push(piece);
  return patterns.map((pattern) => ({
    rollMm: pattern.rollMm,
    pieces: pattern.pieces.flatMap((count, i) => waiting.get(wanted.lengthsMm[i]!)!.splice(0, count)),
  }));
}
