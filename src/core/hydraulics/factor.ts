import { eliminationOrder } from './ordering';

/**
 * The shape of a sparse symmetric positive system A x = b, worked out once per topology: where each link's coefficient
 * goes, and where elimination of each column writes. Rows and columns are in elimination order.
 */
export interface Pattern {
  readonly size: number;
  /** Place in the elimination order of each unknown. */
  readonly place: Int32Array;
  /** Column k's entries below the diagonal are `start[k] .. start[k + 1]`, their rows ascending. */
  readonly start: Int32Array;
  readonly row: Int32Array;
  /** For column k and each pair of its entries in turn, the entry that their product is taken from. */
  readonly target: Int32Array;
  /** Entry of each link; links with a held end share the spare entry after the last. */
  readonly entryOfLink: Int32Array;
}

/**
 * Orders the unknowns and lays out the factor.
 *
 * @param size unknowns
 * @param from,to ends of every link, as unknowns; -1 where the end's head is held
 */
export function layOutPattern(size: number, from: Int32Array, to: Int32Array): Pattern {
  const { order, start, standing } = eliminationOrder(size, from, to);
  const place = new Int32Array(size);
  for (let k = 0; k < size; k++) place[order[k]!] = k;
  const row = standing.map((node) => place[node]!);
  let pairs = 0;
  for (let k = 0; k < size; k++) {
    const height = start[k + 1]! - start[k]!;
    sortBetween(row, start[k]!, start[k + 1]!);
    pairs += (height * (height - 1)) / 2;
  }
  const entry = (column: number, wanted: number): number => {
    let low = start[column]!;
    let high = start[column + 1]! - 1;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (row[middle]! < wanted) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  const target = new Int32Array(pairs);
  let next = 0;
  for (let k = 0; k < size; k++)
    for (let p = start[k]!; p < start[k + 1]!; p++)
      for (let q = p + 1; q < start[k + 1]!; q++) target[next++] = entry(row[p]!, row[q]!);
  const entryOfLink = new Int32Array(from.length);
  for (let i = 0; i < from.length; i++) {
    const a = from[i]!;
    const b = to[i]!;
    if (a < 0 || b < 0 || a === b) entryOfLink[i] = row.length;
    else {
      const first = Math.min(place[a]!, place[b]!);
      entryOfLink[i] = entry(first, Math.max(place[a]!, place[b]!));
    }
  }
  return { size, place, start, row, target, entryOfLink };
}

/** Insertion sort: columns hold a handful of rows. */
function sortBetween(row: Int32Array, begin: number, end: number): void {
  for (let i = begin + 1; i < end; i++) {
    const value = row[i]!;
    let at = i;
    for (; at > begin && row[at - 1]! > value; at--) row[at] = row[at - 1]!;
    row[at] = value;
  }
}

/**
 * Factors A = L D Lt in place and carries the right-hand side forward with it.
 * `diagonal` becomes 1/D, `lower` becomes L, `rhs` becomes D^-1 L^-1 b.
 * The matrices here are those of resistive networks (M-matrices), so no pivoting is needed.
 *
 * @returns false where a pivot is not positive: part of the network hangs in the air
 */
export function factorAndCarry(
  pattern: Pattern,
  diagonal: Float64Array,
  lower: Float64Array,
  rhs: Float64Array,
): boolean {
  const { size, start, row, target } = pattern;
  let next = 0;
  let p = 0;
  let isSound = true;
  for (let k = 0; k < size; k++) {
    const pivot = diagonal[k]!;
    if (!(pivot > 0)) isSound = false;
    const inverse = 1 / pivot;
    const b = rhs[k]!;
    const end = start[k + 1]!;
    for (; p < end; p++) {
      const value = lower[p]!;
      const factor = value * inverse;
      const r = row[p]!;
      diagonal[r] = diagonal[r]! - value * factor;
      rhs[r] = rhs[r]! - factor * b;
      for (let q = p + 1; q < end; q++) {
        const t = target[next++]!;
        lower[t] = lower[t]! - factor * lower[q]!;
      }
      lower[p] = factor;
    }
    diagonal[k] = inverse;
    rhs[k] = b * inverse;
  }
  return isSound;
}

/** Second half of a solve: from D^-1 L^-1 b to x, in place. */
export function carryBack(pattern: Pattern, lower: Float64Array, rhs: Float64Array): void {
  const { size, start, row } = pattern;
  for (let k = size - 1; k >= 0; k--) {
    let x = rhs[k]!;
    for (let p = start[k]!; p < start[k + 1]!; p++) x -= lower[p]! * rhs[row[p]!]!;
    rhs[k] = x;
  }
}

/** Solves A x = b with a factor already made, in place. */
export function solveFactored(
  pattern: Pattern,
  inverseDiagonal: Float64Array,
  lower: Float64Array,
  rhs: Float64Array,
): void {
  const { size, start, row } = pattern;
  for (let k = 0; k < size; k++) {
    const b = rhs[k]!;
    for (let p = start[k]!; p < start[k + 1]!; p++) rhs[row[p]!] = rhs[row[p]!]! - lower[p]! * b;
    rhs[k] = b * inverseDiagonal[k]!;
  }
  carryBack(pattern, lower, rhs);
}
