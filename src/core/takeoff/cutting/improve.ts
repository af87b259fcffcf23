import { type Group, packExactly } from './exact';

/** Repackings tried before the search rests; counted, never timed. */
const MOST_TRIES = 260;
const MOST_PIECES_AT_ONCE = 12;
const MOST_ROLLS_AT_ONCE = 5;

/** The same numbers every time (Lehmer, modulus 2^31 - 1, multiplier 48271; Park and Miller 1993). */
function steadyNumbers(): (below: number) => number {
  let state = 20_011;
  return (below) => {
    state = Number((BigInt(state) * 48_271n) % 2_147_483_647n);
    return state % below;
  };
}

const boughtBy = (groups: readonly Group[]): number => groups.reduce((sum, group) => sum + group.rollMm, 0);

/**
 * Betters a packing a few rolls at a time: their pieces are taken out and put back in the best of all ways, which also
 * gathers what is left over on fewer rolls, until one can be done without. Ends when `enoughMm` is reached.
 * Source: exact neighbourhoods in local search, as in Osogami and Okano (2003), J. Heuristics 9:229; from memory.
 */
export function improvePacking(
  piecesMm: readonly number[],
  start: readonly Group[],
  rollsMm: readonly number[],
  enoughMm: number,
): readonly Group[] {
  const next = steadyNumbers();
  let groups = [...start];
  for (let attempt = 0; attempt < MOST_TRIES && boughtBy(groups) > enoughMm; attempt++) {
    const picked = new Set<number>();
    let pieceCount = 0;
    const most = 2 + next(MOST_ROLLS_AT_ONCE - 1);
    for (let n = 0; n < 3 * most && picked.size < most; n++) {
      const g = next(groups.length);
      const more = groups[g]!.pieces.length;
      if (picked.has(g) || pieceCount + more > MOST_PIECES_AT_ONCE) continue;
      picked.add(g);
      pieceCount += more;
    }
    if (picked.size < 2) continue;
    const pieces = [...picked].flatMap((g) => groups[g]!.pieces);
    const better = packExactly(
      pieces.map((piece) => piecesMm[piece]!),
      rollsMm,
    ).map((group) => ({ rollMm: group.rollMm, pieces: group.pieces.map((k) => pieces[k]!) }));
    groups = [...groups.filter((_, g) => !picked.has(g)), ...better];
  }
  return groups;
}
