import { type Box, boxesTouch, boxOf, distanceM, type PlanPoint, PointIndex } from '../geometry';
import type { Steps } from '../units';
import { linesCross } from './pipesCross';
import { type Site, spansInside } from './site';

/** What a metre of trench counts for, by what it goes through, and what each extra piece of work counts for in metres. */
const BED_FACTOR = 2;
const PAVING_FACTOR = 4;
const SLEEVE_M = 2;
const BEND_M = 0.3;
const SHARED_FACTOR = 0.5;
/** One pipe over another: the lower one lies deeper than it need, and who digs later must know of both. */
const CROSSING_M = 6;
/** Bends looked at from one place: the nearest ones. */
const MOST_NEIGHBOURS = 64;

/** A way through the trench graph: its points in order and what it counts for. */
export interface Way {
  readonly points: readonly PlanPoint[];
  readonly costM: number;
}

interface Entry {
  readonly node: number;
  readonly totalM: number;
}

/**
 * Trenches that may be dug on a site: straight lines between places where a trench may bend, never through a building or
 * an obstacle, dearer under paving and through beds, cheaper where a trench is already open. Lines are measured when first
 * asked for and remembered.
 */
export class TrenchGraph {
  private readonly costs = new Map<number, number>();
  private readonly open = new Set<number>();
  private readonly dug: { readonly a: PlanPoint; readonly b: PlanPoint; readonly box: Box }[] = [];
  /** How many dug trenches a line crosses, and how many were dug when that was counted. */
  private readonly crossed = new Map<number, { count: number; ofDug: number }>();
  private readonly numbers = new Map<string, number>();
  private readonly corners: PointIndex;

  constructor(readonly site: Site) {
    this.corners = new PointIndex(site.corners);
  }

  /** Cost of one straight trench, metres; infinity where something stands in it. */
  lineCostM(a: PlanPoint, b: PlanPoint): number {
    return this.costM(a, b, lineKey(this.numberOf(a), this.numberOf(b)));
  }

  private costM(a: PlanPoint, b: PlanPoint, key: number, carries: 'pipe' | 'wire' = 'pipe'): number {
    const known = this.costs.get(key);
    const bare = known ?? this.measure(a, b);
    if (known === undefined) this.costs.set(key, bare);
    if (this.open.has(key)) return bare * SHARED_FACTOR;
    if (carries === 'wire' || bare === Number.POSITIVE_INFINITY) return bare;
    return bare + CROSSING_M * this.crossings(a, b, key);
  }

  /** Trenches already dug that a line crosses; meeting one end to end is joining it. */
  private crossings(a: PlanPoint, b: PlanPoint, key: number): number {
    const known = this.crossed.get(key) ?? { count: 0, ofDug: 0 };
    if (known.ofDug === this.dug.length) return known.count;
    const box = boxOf([a, b])!;
    const count = this.dug
      .slice(known.ofDug)
      .filter((other) => boxesTouch(other.box, box) && linesCross([a, b], [other.a, other.b])).length;
    this.crossed.set(key, { count: known.count + count, ofDug: this.dug.length });
    return known.count + count;
  }

  /** Places are numbered as they come up: lines are looked up far too often to be named by their coordinates each time. */
  private numberOf(place: PlanPoint): number {
    const key = pointKey(place);
    const known = this.numbers.get(key);
    if (known !== undefined) return known;
    this.numbers.set(key, this.numbers.size);
    return this.numbers.size - 1;
  }

  /** Remembers a dug trench: others that follow it exactly cost less. */
  share(path: readonly PlanPoint[]): void {
    for (let index = 1; index < path.length; index++) {
      const a = path[index - 1]!;
      const b = path[index]!;
      const key = lineKey(this.numberOf(a), this.numberOf(b));
      if (!this.open.has(key)) this.dug.push({ a, b, box: boxOf([a, b])! });
      this.open.add(key);
    }
  }

  private measure(a: PlanPoint, b: PlanPoint): number {
    if (spansInside(this.site.solid, a, b).length > 0) return Number.POSITIVE_INFINITY;
    const lengthM = distanceM(a, b);
    let costM = lengthM + BEND_M;
    const box = boxOf([a, b])!;
    for (const bed of this.site.beds) {
      if (bed.box === null || !boxesTouch(bed.box, box)) continue;
      for (const [from, to] of spansInside(bed, a, b)) costM += (to - from) * lengthM * (BED_FACTOR - 1);
    }
    for (const [from, to] of spansInside(this.site.paved, a, b)) {
      costM += (to - from) * lengthM * (PAVING_FACTOR - 1) + SLEEVE_M;
    }
    return costM;
  }

  /**
   * The cheapest way from any of the starts to the goal; null where there is none. In steps, one for each place it looks from.
   *
   * @param starts where a trench may leave from; ties go to the first
   * @param carries a wire may cross any pipe; a pipe goes out of its way not to
   */
  *findWaySteps(
    starts: readonly PlanPoint[],
    goal: PlanPoint,
    carries: 'pipe' | 'wire' = 'pipe',
  ): Steps<Way | null> {
    const nodes = [goal, ...starts, ...this.site.corners];
    const numbers = nodes.map((node) => this.numberOf(node));
    // No way is cheaper than its length in a trench that is open already.
    const leastM = (from: PlanPoint, to: PlanPoint): number => SHARED_FACTOR * distanceM(from, to);
    const leastToGoalM = Float64Array.from(nodes, (node) => leastM(node, goal));
    const total = new Float64Array(nodes.length).fill(Number.POSITIVE_INFINITY);
    const before = new Int32Array(nodes.length).fill(-1);
    const settled = new Uint8Array(nodes.length);
    const heap: Entry[] = [];
    const push = (node: number, totalM: number): void => {
      total[node] = totalM;
      heapPush(heap, { node, totalM: totalM + leastToGoalM[node]! });
    };
    for (let index = 1; index <= starts.length; index++) push(index, 0);
    while (heap.length > 0) {
      const { node } = heapPop(heap)!;
      if (settled[node]) continue;
      settled[node] = 1;
      if (node === 0) return { points: trace(nodes, before), costM: total[0]! };
      for (const next of this.neighbours(nodes[node]!, settled, starts.length)) {
        const leastReachedM = total[node]! + leastM(nodes[node]!, nodes[next]!);
        if (leastReachedM >= total[next]! || leastReachedM + leastToGoalM[next]! >= total[0]!) continue;
        const key = lineKey(numbers[node]!, numbers[next]!);
        const reachedM = total[node]! + this.costM(nodes[node]!, nodes[next]!, key, carries);
        if (reachedM < total[next]! - 1e-9) {
          before[next] = node;
          push(next, reachedM);
        }
      }
      yield;
    }
    return null;
  }

  /** The goal and the nearest corners that are still open, from one node. */
  private neighbours(from: PlanPoint, settled: Uint8Array, startCount: number): number[] {
    const first = startCount + 1;
    const near = this.corners.nearest(from, MOST_NEIGHBOURS, (corner) => settled[first + corner] === 0);
    return [0, ...near.map((corner) => first + corner)];
  }
}

function trace(nodes: readonly PlanPoint[], before: Int32Array): PlanPoint[] {
  const points: PlanPoint[] = [];
  for (let node = 0; node !== -1; node = before[node]!) points.push(nodes[node]!);
  return points.reverse();
}

const pointKey = ({ x, y }: PlanPoint): string => `${Math.round(x * 1e4)},${Math.round(y * 1e4)}`;
/** One number for a line either way along; exact as long as a site has fewer than 2^26 places. */
const lineKey = (a: number, b: number): number => Math.min(a, b) * 2 ** 26 + Math.max(a, b);

const isBefore = (a: Entry, b: Entry): boolean =>
  a.totalM < b.totalM || (a.totalM === b.totalM && a.node < b.node);

function heapPush(heap: Entry[], entry: Entry): void {
  heap.push(entry);
  let at = heap.length - 1;
  while (at > 0) {
    const parent = (at - 1) >> 1;
    if (!isBefore(heap[at]!, heap[parent]!)) return;
    [heap[at], heap[parent]] = [heap[parent]!, heap[at]!];
    at = parent;
  }
}

function heapPop(heap: Entry[]): Entry | undefined {
  const top = heap[0];
  const last = heap.pop();
  if (top === undefined || last === undefined || heap.length === 0) return top;
  heap[0] = last;
  let at = 0;
  for (;;) {
    const left = 2 * at + 1;
    const right = left + 1;
    let least = at;
    if (left < heap.length && isBefore(heap[left]!, heap[least]!)) least = left;
    if (right < heap.length && isBefore(heap[right]!, heap[least]!)) least = right;
    if (least === at) return top;
    [heap[at], heap[least]] = [heap[least]!, heap[at]!];
    at = least;
  }
}
