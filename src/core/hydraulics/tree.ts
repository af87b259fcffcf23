import type { Incidence } from './incidence';

/** What joins what: positions of unknown heads first, then held ones. */
export interface Shape {
  readonly nodeCount: number;
  readonly unknownCount: number;
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly incidence: Incidence;
}

/** Mark of a position that no open link leads to. */
export const UNREACHED = -2;

/** A tree of fewest links from the held heads to every position that can be reached. */
export interface Tree {
  /** Positions as reached. */
  readonly order: Int32Array;
  readonly count: number;
  /** Link by which each position was reached; -1 at a held head, `UNREACHED` where none leads. */
  readonly byLink: Int32Array;
}

/** Grows the tree, breadth first, past links that are shut. */
export function growTree(shape: Shape, isClosed: Uint8Array): Tree {
  const { nodeCount, unknownCount, from, to } = shape;
  const { first, incident } = shape.incidence;
  const byLink = new Int32Array(nodeCount).fill(UNREACHED);
  const order = new Int32Array(nodeCount);
  let count = 0;
  for (let i = unknownCount; i < nodeCount; i++) {
    byLink[i] = -1;
    order[count++] = i;
  }
  for (let at = 0; at < count; at++) {
    const here = order[at]!;
    for (let p = first[here]!; p < first[here + 1]!; p++) {
      const link = incident[p]!;
      const other = from[link] === here ? to[link]! : from[link]!;
      if (byLink[other] !== UNREACHED || isClosed[link]) continue;
      byLink[other] = link;
      order[count++] = other;
    }
  }
  return { order, count, byLink };
}
