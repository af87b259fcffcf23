import type { Pattern, Wanted } from './patterns';

/** Fillings weighed at one roll, and rolls tried in all, before the search gives up. Counted, never timed. */
const MOST_FILLINGS = 200;
const MOST_ROLLS_TRIED = 500;
/** How strongly long pieces are preferred over little waste, tried in turn. */
const TASTES = [0, 0.05, 0.2, 0.5, 1] as const;

/** `impossible`: every way was weighed and none keeps within the waste. `gave-up`: the count ran out first. */
export type SearchResult =
  | { readonly kind: 'found'; readonly patterns: readonly Pattern[] }
  | { readonly kind: 'impossible' }
  | { readonly kind: 'gave-up' };

interface Filling extends Pattern {
  readonly wasteMm: number;
}

/**
 * Seeks rolls for every piece with no more than `wasteMm` left over in all: the longest piece still waiting is given
 * every filling that keeps within what waste remains, least waste first. Fillings that could take one more piece, or
 * that a shorter roll would hold, are passed over: another is never worse.
 * Source: bin completion, after Korf (2003), IJCAI-03; from memory.
 */
export function packWithin(wanted: Wanted, rollsMm: readonly number[], wasteMm: number): SearchResult {
  let result: SearchResult = { kind: 'gave-up' };
  for (const taste of TASTES) {
    result = searchWith(wanted, rollsMm, wasteMm, taste);
    if (result.kind !== 'gave-up') break;
  }
  return result;
}

function searchWith(
  wanted: Wanted,
  rollsMm: readonly number[],
  wasteMm: number,
  taste: number,
): SearchResult {
  const left = [...wanted.counts];
  const chosen: Pattern[] = [];
  let rollsTried = 0;
  let hasGivenUp = false;

  const serve = (wasteLeftMm: number): boolean => {
    const longest = left.findIndex((count) => count > 0);
    if (longest < 0) return true;
    const fillings = rollsMm.flatMap((rollMm, r) =>
      fillingsWith({ ...wanted, counts: left }, longest, rollMm, rollsMm[r - 1] ?? 0, wasteLeftMm),
    );
    if (fillings.length >= MOST_FILLINGS) hasGivenUp = true;
    for (const filling of fillings.sort(byTaste(wanted, taste)).slice(0, MOST_FILLINGS)) {
      if (++rollsTried > MOST_ROLLS_TRIED) {
        hasGivenUp = true;
        return false;
      }
      for (const [i, count] of filling.pieces.entries()) left[i]! -= count;
      chosen.push({ rollMm: filling.rollMm, pieces: filling.pieces });
      if (serve(wasteLeftMm - filling.wasteMm)) return true;
      chosen.pop();
      for (const [i, count] of filling.pieces.entries()) left[i]! += count;
    }
    return false;
  };
  if (serve(wasteMm)) return { kind: 'found', patterns: chosen };
  return { kind: hasGivenUp ? 'gave-up' : 'impossible' };
}

/** Least waste first, less what long pieces are worth; of equals the one that rids us of longer pieces. */
function byTaste({ lengthsMm }: Wanted, taste: number): (a: Filling, b: Filling) => number {
  const costOf = ({ rollMm, pieces, wasteMm }: Filling): number =>
    wasteMm - taste * pieces.reduce((sum, count, i) => sum + (count * lengthsMm[i]! ** 2) / rollMm, 0);
  return (a, b) => {
    const difference = costOf(a) - costOf(b);
    if (difference !== 0) return difference;
    const first = a.pieces.findIndex((count, i) => count !== b.pieces[i]);
    return first < 0 ? 0 : b.pieces[first]! - a.pieces[first]!;
  };
}

/** Fillings of one roll that hold the piece `longest`, waste at most `mostWasteMm`, and use more than `shorterMm`. */
function fillingsWith(
  waiting: Wanted,
  longest: number,
  rollMm: number,
  shorterMm: number,
  mostWasteMm: number,
): Filling[] {
  const { lengthsMm, counts } = waiting;
  const found: Filling[] = [];
  if (lengthsMm[longest]! > rollMm) return found;
  const pieces: number[] = lengthsMm.map((_, i) => (i === longest ? 1 : 0));
  const canAddAny = (roomMm: number): boolean =>
    lengthsMm.some((length, i) => length <= roomMm && pieces[i]! < counts[i]!);
  const waitingFromMm = restLengths(waiting);
  const fill = (at: number, roomMm: number): void => {
    if (found.length >= MOST_FILLINGS || roomMm - waitingFromMm[at]! > mostWasteMm) return;
    if (at === lengthsMm.length || roomMm < lengthsMm.at(-1)!) {
      if (roomMm <= mostWasteMm && rollMm - roomMm > shorterMm && !canAddAny(roomMm)) {
        found.push({ rollMm, pieces: [...pieces], wasteMm: roomMm });
      }
      return;
    }
    const before = pieces[at]!;
    const more = Math.min(counts[at]! - before, Math.floor(roomMm / lengthsMm[at]!));
    for (let count = more; count >= 0; count--) {
      pieces[at] = before + count;
      fill(at + 1, roomMm - count * lengthsMm[at]!);
    }
    pieces[at] = before;
  };
  fill(longest, rollMm - lengthsMm[longest]!);
  return found;
}

/** Length of everything still waiting from each place of the list on. */
function restLengths({ lengthsMm, counts }: Wanted): readonly number[] {
  const rest = [...lengthsMm.map(() => 0), 0];
  for (let i = lengthsMm.length - 1; i >= 0; i--) rest[i] = rest[i + 1]! + lengthsMm[i]! * counts[i]!;
  return rest;
}
