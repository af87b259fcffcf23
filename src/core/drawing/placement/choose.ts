import { boxCorners, boxesOverlap, type InkSegment, segmentEnters, type TurnedBox } from './ink';

/** One way to set a label: what it covers, the lines it draws to its place, and how far it is from ideal. */
export interface Candidate {
  readonly cost: number;
  readonly boxes: readonly TurnedBox[];
  readonly leaders: readonly InkSegment[];
  /** Short lines of its own that lie within the drawing: no lettering may stand on them, leaders may pass. */
  readonly lines?: readonly InkSegment[];
}

/** A label to be set in one of its ways. A label that cannot be set costs its weight. */
export interface Choice<C extends Candidate> {
  readonly key: string;
  readonly weight: number;
  readonly candidates: readonly C[];
}

const CLEAR_MM = -1;

const turn = (a: InkSegment, x: number, y: number): number =>
  Math.sign((a.b.x - a.a.x) * (y - a.a.y) - (a.b.y - a.a.y) * (x - a.a.x));
const SAME_PLACE_MM = 0.3;
const LEAST_FORK = Math.sin((12 * Math.PI) / 180);

/** Two leaders from one place: they part at once, unless they run the same way. */
function leadersFork(a: InkSegment, b: InkSegment): boolean {
  const [ax, ay, bx, by] = [a.b.x - a.a.x, a.b.y - a.a.y, b.b.x - b.a.x, b.b.y - b.a.y];
  const lengths = Math.hypot(ax, ay) * Math.hypot(bx, by);
  return ax * bx + ay * by < 0 || Math.abs(ax * by - ay * bx) > LEAST_FORK * lengths;
}

const leadersCross = (a: InkSegment, b: InkSegment): boolean =>
  Math.hypot(a.a.x - b.a.x, a.a.y - b.a.y) < SAME_PLACE_MM
    ? !leadersFork(a, b)
    : turn(a, b.a.x, b.a.y) !== turn(a, b.b.x, b.b.y) && turn(b, a.a.x, a.a.y) !== turn(b, a.b.x, a.b.y);

/** True where two labels so set would touch: box on box, a leader through a box, or two leaders crossing. */
export function candidatesClash(one: Candidate, other: Candidate): boolean {
  return (
    one.boxes.some((a) => other.boxes.some((b) => boxesOverlap(a, b, CLEAR_MM))) ||
    [...one.leaders, ...(one.lines ?? [])].some((line) =>
      other.boxes.some((b) => segmentEnters(b, line, -0.3)),
    ) ||
    [...other.leaders, ...(other.lines ?? [])].some((line) =>
      one.boxes.some((b) => segmentEnters(b, line, -0.3)),
    ) ||
    one.leaders.some((line) => other.leaders.some((next) => leadersCross(line, next)))
  );
}

interface Node {
  readonly choice: number;
  readonly candidate: number;
  readonly cost: number;
  readonly clashes: number[];
}

interface Extent {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** The upright box round everything a candidate prints. */
function extent(candidate: Candidate): Extent {
  let [minX, minY, maxX, maxY] = [1e9, 1e9, -1e9, -1e9];
  const take = (x: number, y: number): void => {
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  };
  for (const box of candidate.boxes) for (const corner of boxCorners(box)) take(corner.x, corner.y);
  for (const lines of [candidate.leaders, candidate.lines ?? []]) {
    for (const line of lines) {
      take(line.a.x, line.a.y);
      take(line.b.x, line.b.y);
    }
  }
  return { minX, minY, maxX, maxY };
}

/** False where two candidates are too far apart to touch. */
const mayTouch = (a: Extent, b: Extent): boolean =>
  a.minX <= b.maxX + NEAR_MM &&
  b.minX <= a.maxX + NEAR_MM &&
  a.minY <= b.maxY + NEAR_MM &&
  b.minY <= a.maxY + NEAR_MM;

const NEAR_MM = 1;
const BUCKET_MM = 18;

/** The conflict graph: one node a candidate, an edge where two would touch. Grows as choices are offered more ways. */
class ConflictGraph<C extends Candidate> {
  readonly nodes: Node[] = [];
  private readonly candidates: C[] = [];
  private readonly extents: Extent[] = [];
  private readonly buckets = new Map<number, number[]>();
  private readonly lastSeen: number[] = [];

  /** Adds one way of a choice, and its edges to every other choice's ways. */
  add(choice: number, place: number, candidate: C): void {
    const index = this.nodes.length;
    const node: Node = { choice, candidate: place, cost: candidate.cost, clashes: [] };
    const own = extent(candidate);
    this.nodes.push(node);
    this.candidates.push(candidate);
    this.extents.push(own);
    this.lastSeen.push(-1);
    const to = (mm: number): number => Math.floor(mm / BUCKET_MM);
    for (let i = to(own.minX - 1); i <= to(own.maxX + 1); i++) {
      for (let j = to(own.minY - 1); j <= to(own.maxY + 1); j++) {
        const key = i * 100_003 + j;
        const bucket = this.buckets.get(key);
        if (bucket === undefined) {
          this.buckets.set(key, [index]);
          continue;
        }
        for (const other of bucket) this.link(index, other);
        bucket.push(index);
      }
    }
  }

  private link(index: number, other: number): void {
    const [node, against] = [this.nodes[index]!, this.nodes[other]!];
    if (against.choice === node.choice || this.lastSeen[other] === index) return;
    this.lastSeen[other] = index;
    if (!mayTouch(this.extents[index]!, this.extents[other]!)) return;
    if (!candidatesClash(this.candidates[index]!, this.candidates[other]!)) return;
    against.clashes.push(index);
    node.clashes.push(other);
  }
}

/** State of the search: which node each choice uses (-1: none) and how many chosen nodes each node clashes with. */
class Search {
  readonly chosen: Int32Array;
  private readonly blocked: Int32Array;
  readonly nodesOf: number[][];

  constructor(
    private readonly nodes: readonly Node[],
    private readonly weights: readonly number[],
  ) {
    this.chosen = new Int32Array(weights.length).fill(-1);
    this.blocked = new Int32Array(nodes.length);
    this.nodesOf = weights.map(() => []);
    nodes.forEach((node, i) => {
      this.nodesOf[node.choice]!.push(i);
    });
  }

  set(choice: number, node: number): void {
    const old = this.chosen[choice]!;
    if (old >= 0) for (const other of this.nodes[old]!.clashes) this.blocked[other]!--;
    this.chosen[choice] = node;
    if (node >= 0) for (const other of this.nodes[node]!.clashes) this.blocked[other]!++;
  }

  costOf(choice: number): number {
    const node = this.chosen[choice]!;
    return node < 0 ? this.weights[choice]! : this.nodes[node]!.cost;
  }

  /** The cheapest free node of a choice, or -1. */
  best(choice: number): number {
    let best = -1;
    for (const node of this.nodesOf[choice]!) {
      if (this.blocked[node]! > 0) continue;
      if (best < 0 || this.nodes[node]!.cost < this.nodes[best]!.cost) best = node;
    }
    return best >= 0 && this.nodes[best]!.cost < this.weights[choice]! ? best : -1;
  }

  /** Puts a choice on a node, moves whoever stood in the way to their next best, and keeps it only if all together gain. */
  tryMove(choice: number, node: number): boolean {
    const evicted: number[] = [];
    for (const other of this.nodes[node]!.clashes) {
      const owner = this.nodes[other]!.choice;
      if (this.chosen[owner] === other) evicted.push(owner);
    }
    const touched = [choice, ...evicted];
    const before = touched.map((c) => this.chosen[c]!);
    const costBefore = touched.reduce((sum, c) => sum + this.costOf(c), 0);
    for (const c of evicted) this.set(c, -1);
    this.set(choice, node);
    for (const c of evicted) this.set(c, this.best(c));
    const costAfter = touched.reduce((sum, c) => sum + this.costOf(c), 0);
    if (costAfter < costBefore - 1e-9) return true;
    for (const c of touched) this.set(c, -1);
    touched.forEach((c, i) => {
      this.set(c, before[i]!);
    });
    return false;
  }
}

const PASSES = 6;

/**
 * Chooses one way for every label so that no two touch, at the least total cost found: the heaviest first, then local
 * search, each label trying every other way of its own and pushing its neighbours to theirs. Labels left out may be
 * offered further ways and all are chosen again. Deterministic.
 */
export class LabelChooser<C extends Candidate> {
  private readonly graph = new ConflictGraph<C>();
  private readonly offered: C[][];
  private chosen: readonly number[] = [];

  constructor(private readonly choices: readonly Choice<C>[]) {
    this.offered = choices.map(() => []);
    choices.forEach((choice, i) => {
      this.offer(i, choice.candidates);
    });
  }

  /** More ways to set a label. */
  offer(choice: number, candidates: readonly C[]): void {
    for (const candidate of candidates) {
      this.graph.add(choice, this.offered[choice]!.length, candidate);
      this.offered[choice]!.push(candidate);
    }
  }

  /** The index of the chosen way of each label among all that were offered, or -1 where it is left out. */
  choose(): readonly number[] {
    const { nodes } = this.graph;
    const search = new Search(
      nodes,
      this.choices.map((c) => c.weight),
    );
    const order = this.choices
      .map((_, i) => i)
      .sort(
        (a, b) =>
          this.choices[b]!.weight - this.choices[a]!.weight ||
          this.offered[a]!.length - this.offered[b]!.length ||
          a - b,
      );
    for (const c of order) search.set(c, search.best(c));
    for (let pass = 0; pass < PASSES; pass++) {
      let improved = false;
      for (const c of order) {
        for (const node of search.nodesOf[c]!) {
          if (nodes[node]!.cost >= search.costOf(c)) continue;
          improved = search.tryMove(c, node) || improved;
        }
      }
      if (!improved) break;
    }
    this.chosen = this.choices.map((_, i) => {
      const node = search.chosen[i]!;
      return node < 0 ? -1 : nodes[node]!.candidate;
    });
    return this.chosen;
  }

  /** The way last chosen for a label, or null where it is left out. */
  candidateOf(choice: number): C | null {
    const index = this.chosen[choice] ?? -1;
    return index < 0 ? null : this.offered[choice]![index]!;
  }
}
