/** Lengths wanted, longest first, each with how many. Whole millimetres. */
export interface Wanted {
  readonly lengthsMm: readonly number[];
  readonly counts: readonly number[];
}

/** What one roll is cut into: how many of each length. */
export interface Pattern {
  readonly rollMm: number;
  readonly pieces: readonly number[];
}

/** Groups equal pieces. */
export function wantedOf(piecesMm: readonly number[]): Wanted {
  const counts = new Map<number, number>();
  for (const length of piecesMm) counts.set(length, (counts.get(length) ?? 0) + 1);
  const lengthsMm = [...counts.keys()].sort((a, b) => b - a);
  return { lengthsMm, counts: lengthsMm.map((length) => counts.get(length)!) };
}

export const usedMm = (pattern: Pattern, { lengthsMm }: Wanted): number =>
  pattern.pieces.reduce((sum, count, i) => sum + count * lengthsMm[i]!, 0);
