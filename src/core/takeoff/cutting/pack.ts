/** Rolls to buy and which pieces each serves. Lengths in whole millimetres, so that nothing hangs on a rounding. */
export interface Packing {
  readonly rolls: readonly { readonly lengthMm: number; readonly pieces: readonly number[] }[];
  readonly boughtMm: number;
  /** No choice of whole rolls buys less. */
  readonly leastMm: number;
  readonly isProven: boolean;
}

interface OpenRoll {
  readonly pieces: number[];
  usedMm: number;
}

const sum = (numbers: readonly number[]): number => numbers.reduce((total, n) => total + n, 0);

function shortestRollFor(lengthMm: number, rollsMm: readonly number[]): number {
  return rollsMm.find((roll) => roll >= lengthMm) ?? rollsMm.at(-1)!;
}

/** Longest piece first into the fullest roll that still takes it; rolls are cut down to the shortest that serves. */
function packLongestFirst(
  piecesMm: readonly number[],
  order: readonly number[],
  capacityMm: number,
  rollsMm: readonly number[],
): Packing['rolls'] {
  const open: OpenRoll[] = [];
  for (const piece of order) {
    const lengthMm = piecesMm[piece]!;
    let best: OpenRoll | null = null;
    for (const roll of open) {
      if (roll.usedMm + lengthMm <= capacityMm && (!best || roll.usedMm > best.usedMm)) best = roll;
    }
    if (!best) {
      best = { pieces: [], usedMm: 0 };
      open.push(best);
    }
    best.pieces.push(piece);
    best.usedMm += lengthMm;
  }
  return open.map((roll) => ({ lengthMm: shortestRollFor(roll.usedMm, rollsMm), pieces: roll.pieces }));
}

/**
 * Chooses whole rolls for pieces that are each cut from one roll, with the least length bought.
 *
 * @param piecesMm  whole millimetres, each > 0 and no longer than the longest roll
 * @param rollsMm   lengths on sale, ascending, each in any number
 */
export function packPieces(piecesMm: readonly number[], rollsMm: readonly number[]): Packing {
  const order = piecesMm.map((_, i) => i).sort((a, b) => piecesMm[b]! - piecesMm[a]! || a - b);
  const tries = rollsMm
    .filter((roll) => roll >= (piecesMm[order[0]!] ?? 0))
    .map((capacity) => packLongestFirst(piecesMm, order, capacity, rollsMm));
  const bought = tries.map((rolls) => sum(rolls.map((roll) => roll.lengthMm)));
  const best = bought.indexOf(Math.min(...bought));
  const leastMm = sum(piecesMm);
  return {
    rolls: tries[best] ?? [],
    boughtMm: bought[best] ?? 0,
    leastMm,
    isProven: (bought[best] ?? 0) === leastMm,
  };
}
