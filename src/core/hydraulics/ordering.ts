/** Unknowns as eliminated, and for each step the unknowns still standing that it touches. */
export interface Elimination {
  readonly order: Int32Array;
  /** Step k touches `standing[start[k] .. start[k + 1]]`. */
  readonly start: Int32Array;
  readonly standing: Int32Array;
}

/**
 * An order in which to eliminate the unknowns of a sparse symmetric system so that little fills in: least degree first,
 * the latest touched on a tie, so that chains are walked along. On paths, trees, ladders and loops the work is linear
 * in their size.
 * Source: minimum degree, Tinney and Walker (1967).
 *
 * @param count unknowns, numbered from 0
 * @param from,to ends of the links between unknowns; -1 where an end is held
 */
export function eliminationOrder(count: number, from: Int32Array, to: Int32Array): Elimination {
  const graph = layOutGraph(count, from, to);
  const queue = new DegreeQueue(count);
  for (let node = count - 1; node >= 0; node--) queue.put(node, graph.degree[node]!);
  const order = new Int32Array(count);
  const start = new Int32Array(count + 1);
  let standing = new Int32Array(2 * count + 16);
  let filled = 0;
  for (let step = 0; step < count; step++) {
    const node = queue.takeLeast();
    order[step] = node;
    const degree = graph.degree[node]!;
    if (filled + degree > standing.length) standing = grown(standing, filled + degree);
    graph.isGone[node] = 1;
    for (let e = graph.first[node]!; e >= 0; e = graph.next[e]!) {
      const other = graph.other[e]!;
      if (!graph.isGone[other]) standing[filled++] = other;
    }
    start[step + 1] = filled;
    connect(graph, standing, start[step]!, filled);
    for (let i = start[step]!; i < filled; i++) queue.move(standing[i]!, graph.degree[standing[i]!]!);
  }
  return { order, start, standing: standing.subarray(0, filled) };
}

/** Neighbours as linked lists in flat arrays; entries of unknowns already gone are passed over. */
interface Graph {
  readonly degree: Int32Array;
  readonly isGone: Uint8Array;
  readonly first: Int32Array;
  next: Int32Array;
  other: Int32Array;
  used: number;
}

function layOutGraph(count: number, from: Int32Array, to: Int32Array): Graph {
  const graph: Graph = {
    degree: new Int32Array(count),
    isGone: new Uint8Array(count),
    first: new Int32Array(count).fill(-1),
    next: new Int32Array(4 * from.length + 16),
    other: new Int32Array(4 * from.length + 16),
    used: 0,
  };
  for (let i = 0; i < from.length; i++) {
    const a = from[i]!;
    const b = to[i]!;
    if (a < 0 || b < 0 || a === b || areJoined(graph, a, b)) continue;
    join(graph, a, b);
  }
  return graph;
}

function join(graph: Graph, a: number, b: number): void {
  if (graph.used + 2 > graph.other.length) {
    graph.next = grown(graph.next, graph.used + 2);
    graph.other = grown(graph.other, graph.used + 2);
  }
  addEntry(graph, a, b);
  addEntry(graph, b, a);
}

function addEntry(graph: Graph, at: number, other: number): void {
  const e = graph.used++;
  graph.other[e] = other;
  graph.next[e] = graph.first[at]!;
  graph.first[at] = e;
  graph.degree[at]!++;
}

/** Looks along the shorter list, dropping entries of unknowns that are gone. */
function areJoined(graph: Graph, a: number, b: number): boolean {
  const [at, wanted] = graph.degree[a]! <= graph.degree[b]! ? [a, b] : [b, a];
  let last = -1;
  for (let e = graph.first[at]!; e >= 0; e = graph.next[e]!) {
    const other = graph.other[e]!;
    if (other === wanted) return true;
    if (graph.isGone[other]) {
      if (last < 0) graph.first[at] = graph.next[e]!;
      else graph.next[last] = graph.next[e]!;
    } else last = e;
  }
  return false;
}

/** Joins every pair of the standing unknowns; each has lost the one that was eliminated. */
function connect(graph: Graph, standing: Int32Array, begin: number, end: number): void {
  for (let i = begin; i < end; i++) graph.degree[standing[i]!]!--;
  for (let i = begin; i < end; i++)
    for (let j = i + 1; j < end; j++) {
      const a = standing[i]!;
      const b = standing[j]!;
      if (!areJoined(graph, a, b)) join(graph, a, b);
    }
}

/** Unknowns by degree: doubly linked lists, one a degree. */
class DegreeQueue {
  private readonly head: number[] = [];
  private readonly next: Int32Array;
  private readonly previous: Int32Array;
  private readonly degree: Int32Array;
  private least = 0;

  constructor(count: number) {
    this.next = new Int32Array(count);
    this.previous = new Int32Array(count);
    this.degree = new Int32Array(count);
  }

  put(node: number, degree: number): void {
    while (this.head.length <= degree) this.head.push(-1);
    const head = this.head[degree]!;
    this.next[node] = head;
    this.previous[node] = -1;
    if (head >= 0) this.previous[head] = node;
    this.head[degree] = node;
    this.degree[node] = degree;
    if (degree < this.least) this.least = degree;
  }

  move(node: number, degree: number): void {
    this.remove(node);
    this.put(node, degree);
  }

  takeLeast(): number {
    while (this.head[this.least] === -1) this.least++;
    const node = this.head[this.least]!;
    this.remove(node);
    return node;
  }

  private remove(node: number): void {
    const next = this.next[node]!;
    const previous = this.previous[node]!;
    if (previous >= 0) this.next[previous] = next;
    else this.head[this.degree[node]!] = next;
    if (next >= 0) this.previous[next] = previous;
  }
}

function grown(array: Int32Array, least: number): Int32Array<ArrayBuffer> {
  const larger = new Int32Array(Math.max(2 * array.length, least));
  larger.set(array);
  return larger;
}
