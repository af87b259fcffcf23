/** Links that meet at each node: those of node i are `incident[first[i] .. first[i + 1]]`. */
export interface Incidence {
  readonly first: Int32Array;
  readonly incident: Int32Array;
}

/** Lists the links at each of `count` nodes. */
export function incidence(count: number, from: Int32Array, to: Int32Array): Incidence {
  const first = new Int32Array(count + 1);
  for (let i = 0; i < from.length; i++) {
    first[from[i]! + 1]!++;
    first[to[i]! + 1]!++;
  }
  for (let i = 0; i < count; i++) first[i + 1] = first[i + 1]! + first[i]!;
  const fill = first.slice();
  const incident = new Int32Array(2 * from.length);
  for (let i = 0; i < from.length; i++) {
    incident[fill[from[i]!]!++] = i;
    incident[fill[to[i]!]!++] = i;
  }
  return { first, incident };
}
