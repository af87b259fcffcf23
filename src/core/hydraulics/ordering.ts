/**
 * An order in which to eliminate the unknowns of a sparse symmetric system so that little fills in: least degree first,
 * ties by the earlier node. On paths, trees, ladders and loops the work is linear in their size.
 * Source: minimum degree, Tinney and Walker (1967).
 *
 * @param count unknowns, numbered from 0
 * @param from,to ends of the links between unknowns; -1 where an end is held
 * @returns `order`: unknowns as eliminated; `columns[k]`: unknowns still standing that step k touches
 */
export function eliminationOrder(
  count: number,
  from: Int32Array,
  to: Int32Array,
): { readonly order: Int32Array; readonly columns: readonly Int32Array[] } {
  const neighbours: number[][] = Array.from({ length: count }, () => []);
  for (let i = 0; i < from.length; i++) {
    const a = from[i]!;
    const b = to[i]!;
    if (a < 0 || b < 0 || a === b) continue;
    neighbours[a]!.push(b);
    neighbours[b]!.push(a);
  }
  const mark = new Int32Array(count).fill(-1);
  const isGone = new Uint8Array(count);
  let stamp = 0;
  const live = (node: number): number[] => {
    stamp++;
    const list = neighbours[node]!;
    let kept = 0;
    for (const other of list) {
      if (isGone[other] || mark[other] === stamp) continue;
      mark[other] = stamp;
      list[kept++] = other;
    }
    list.length = kept;
    return list;
  };
  const degree = new Int32Array(count);
  const buckets: number[][] = [];
  const enqueue = (node: number) => {
    const d = degree[node]!;
    while (buckets.length <= d) buckets.push([]);
    buckets[d]!.push(node);
  };
  for (let node = count - 1; node >= 0; node--) {
    degree[node] = live(node).length;
    enqueue(node);
  }
  const order = new Int32Array(count);
  const columns: Int32Array[] = [];
  let least = 0;
  for (let step = 0; step < count; ) {
    while (least < buckets.length && buckets[least]!.length === 0) least++;
    const node = buckets[least]!.pop()!;
    if (isGone[node] || degree[node] !== least) continue;
    const standing = Int32Array.from(live(node));
    isGone[node] = 1;
    order[step++] = node;
    columns.push(standing);
    connect(standing, neighbours, degree);
    for (const other of standing) {
      enqueue(other);
      if (degree[other]! < least) least = degree[other]!;
    }
  }
  return { order, columns };
}

/** Joins every pair of the standing nodes, and keeps their degrees: each has lost one neighbour. */
function connect(standing: Int32Array, neighbours: number[][], degree: Int32Array) {
  for (const node of standing) degree[node]!--;
  for (let i = 0; i < standing.length; i++) {
    const a = standing[i]!;
    for (let j = i + 1; j < standing.length; j++) {
      const b = standing[j]!;
      const listA = neighbours[a]!;
      const listB = neighbours[b]!;
      const areJoined = listA.length <= listB.length ? listA.includes(b) : listB.includes(a);
      if (areJoined) continue;
      listA.push(b);
      listB.push(a);
      degree[a]!++;
      degree[b]!++;
    }
  }
}
