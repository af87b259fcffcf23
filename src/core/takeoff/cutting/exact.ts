/** Pieces for which every way of putting them together is weighed: 3 to this power steps. */
export const MOST_EXACT_PIECES = 15;

/** Pieces that share a roll, by their places in the list, and that roll. */
export interface Group {
  readonly rollMm: number;
  readonly pieces: readonly number[];
}

/** One roll half empty is of more use than two a quarter empty each; far below a millimetre in all. */
const LEFT_TOGETHER = 1e-12;

/**
 * The least length of rolls for a few pieces, by dynamic programming over their subsets: the roll of the first piece
 * is given every set of companions. Of equal lengths the one whose left-overs lie together.
 * Source: Held and Karp (1962), J. SIAM 10:196, for the recursion over subsets.
 *
 * @param piecesMm  at most {@link MOST_EXACT_PIECES}, each no longer than the longest roll
 * @param rollsMm   lengths on sale, ascending
 */
export function packExactly(piecesMm: readonly number[], rollsMm: readonly number[]): readonly Group[] {
  const count = piecesMm.length;
  const sets = 1 << count;
  const rollOf = new Int32Array(sets);
  const worth = new Float64Array(sets);
  const sums = new Float64Array(sets);
  for (let set = 1; set < sets; set++) {
    const low = 31 - Math.clz32(set & -set);
    const sum = sums[set & (set - 1)]! + piecesMm[low]!;
    sums[set] = sum;
    const roll = rollsMm.find((length) => length >= sum) ?? 0;
    rollOf[set] = roll;
    worth[set] = roll === 0 ? Number.POSITIVE_INFINITY : roll - LEFT_TOGETHER * (roll - sum) ** 2;
  }
  const least = new Float64Array(sets).fill(Number.POSITIVE_INFINITY);
  const first = new Int32Array(sets);
  least[0] = 0;
  for (let set = 1; set < sets; set++) {
    const low = set & -set;
    const others = set ^ low;
    for (let rest = others; ; rest = (rest - 1) & others) {
      const total = worth[set ^ rest]! + least[rest]!;
      if (total < least[set]!) {
        least[set] = total;
        first[set] = set ^ rest;
      }
      if (rest === 0) break;
    }
  }
  const groups: Group[] = [];
  for (let set = sets - 1; set > 0; set ^= first[set]!) {
    const taken = first[set]!;
    groups.push({ rollMm: rollOf[taken]!, pieces: piecesMm.flatMap((_, i) => (taken & (1 << i) ? i : [])) });
  }
  return groups;
}
