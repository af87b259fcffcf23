import { boxesOverlap, type InkSegment, segmentEnters, type TurnedBox } from './ink';

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
    linesEnter(one.leaders, other.boxes) ||
    linesEnter(one.lines, other.boxes) ||
    linesEnter(other.leaders, one.boxes) ||
    linesEnter(other.lines, one.boxes) ||
    one.leaders.some((line) => other.leaders.some((next) => leadersCross(line, next)))
  );
}

const linesEnter = (lines: readonly InkSegment[] | undefined, boxes: readonly TurnedBox[]): boolean =>
  lines?.some((line) => boxes.some((box) => segmentEnters(box, line, -0.3))) ?? false;

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
  for (const box of candidate.boxes) {
    const [c, s] = [Math.abs(Math.cos(box.angleRad)), Math.abs(Math.sin(box.angleRad))];
    const reachX = box.halfWidthMm * c + box.halfHeightMm * s;
    const reachY = box.halfWidthMm * s + box.halfHeightMm * c;
    take(box.x - reachX, box.y - reachY);
    take(box.x + reachX, box.y + reachY);
  }
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

/** One way of one choice: its place among all ways, and the squares of the page it may touch something in. */
interface Way<C extends Candidate> {
  readonly index: number;
  readonly choice: number;
  /** Which of the choice's own ways. */
  readonly own: number;
  readonly candidate: C;
  readonly extent: Extent;
  readonly fromI: number;
  readonly toI: number;
  readonly fromJ: number;
  readonly toJ: number;
}

function wayOf<C extends Candidate>(index: number, choice: number, own: number, candidate: C): Way<C> {
  const box = extent(candidate);
  const to = (mm: number): number => Math.floor(mm / BUCKET_MM);
  return {
    index,
    choice,
    own,
    candidate,
    extent: box,
    fromI: to(box.minX - NEAR_MM),
    toI: to(box.maxX + NEAR_MM),
    fromJ: to(box.minY - NEAR_MM),
    toJ: to(box.maxY + NEAR_MM),
  };
}

/** A move must gain more than rounding could. */
const LEAST_GAIN = 1e-9;

const squareKey = (i: number, j: number): number => i * 100_003 + j;

/**
 * State of the search: the way each choice uses, and the page's squares with the ways used in them. Whether two ways
 * touch is asked only of ways in use and of one that is tried: few of all pairs are ever asked about.
 */
class Search<C extends Candidate> {
  private readonly used: (Way<C> | null)[];
  private readonly squares = new Map<number, Way<C>[]>();
  private readonly touching = new Map<number, boolean>();
  private readonly count: number;

  /** @param ways the ways of each choice, cheapest first */
  constructor(
    readonly ways: readonly (readonly Way<C>[])[],
    private readonly weights: readonly number[],
  ) {
    this.used = weights.map(() => null);
    this.count = ways.reduce((sum, own) => sum + own.length, 0);
  }

  usedBy(choice: number): Way<C> | null {
    return this.used[choice]!;
  }

  set(choice: number, way: Way<C> | null): void {
    const old = this.used[choice];
    if (old)
      this.eachSquare(old, (key) => {
        const square = this.squares.get(key)!;
        square.splice(square.indexOf(old), 1);
      });
    this.used[choice] = way;
    if (way)
      this.eachSquare(way, (key) => {
        const square = this.squares.get(key);
        if (square) square.push(way);
        else this.squares.set(key, [way]);
      });
  }

  private eachSquare(way: Way<C>, take: (key: number) => void): void {
    for (let i = way.fromI; i <= way.toI; i++)
      for (let j = way.fromJ; j <= way.toJ; j++) take(squareKey(i, j));
  }

  private touches(a: Way<C>, b: Way<C>): boolean {
    if (!mayTouch(a.extent, b.extent)) return false;
    const key = Math.min(a.index, b.index) * this.count + Math.max(a.index, b.index);
    let known = this.touching.get(key);
    if (known === undefined) {
      known = candidatesClash(a.candidate, b.candidate);
      this.touching.set(key, known);
    }
    return known;
  }

  private isFree(way: Way<C>): boolean {
    for (let i = way.fromI; i <= way.toI; i++)
      for (let j = way.fromJ; j <= way.toJ; j++)
        for (const other of this.squares.get(squareKey(i, j)) ?? [])
          if (other.choice !== way.choice && this.touches(way, other)) return false;
    return true;
  }

  /** Ways in use that a way would touch: older ones by the square they are first met in, then newer ones by age. */
  private inTheWayOf(way: Way<C>): readonly Way<C>[] {
    const found = new Set<Way<C>>();
    this.eachSquare(way, (key) => {
      for (const other of this.squares.get(key) ?? [])
        if (other.choice !== way.choice && !found.has(other) && this.touches(way, other)) found.add(other);
    });
    const squareRank = (other: Way<C>): number =>
      other.index > way.index
        ? Number.POSITIVE_INFINITY
        : Math.max(way.fromI, other.fromI) * 10_000 + Math.max(way.fromJ, other.fromJ);
    return [...found].sort((a, b) => {
      const [rankA, rankB] = [squareRank(a), squareRank(b)];
      return rankA === rankB ? a.index - b.index : rankA - rankB;
    });
  }

  costOf(choice: number): number {
    return this.used[choice]?.candidate.cost ?? this.weights[choice]!;
  }

  /** The cheapest free way of a choice, or null. */
  best(choice: number): Way<C> | null {
    for (const way of this.ways[choice]!) {
      if (way.candidate.cost >= this.weights[choice]!) return null;
      if (this.isFree(way)) return way;
    }
    return null;
  }

  /** The least a choice can cost beside a way of another, whatever else is set: most moves cannot gain even so. */
  private leastBeside(choice: number, way: Way<C>): number {
    for (const own of this.ways[choice]!) {
      if (own.candidate.cost >= this.weights[choice]!) break;
      if (!this.touches(way, own)) return own.candidate.cost;
    }
    return this.weights[choice]!;
  }

  /** Puts a choice on a way, moves whoever stood in the way to their next best, and keeps it only if all together gain. */
  tryMove(choice: number, way: Way<C>): boolean {
    const evicted = this.inTheWayOf(way).map((other) => other.choice);
    const touched = [choice, ...evicted];
    const costBefore = touched.reduce((sum, c) => sum + this.costOf(c), 0);
    let leastAfter = way.candidate.cost;
    for (const c of evicted) {
      leastAfter += this.leastBeside(c, way);
      if (leastAfter >= costBefore - LEAST_GAIN) return false;
    }
    const before = touched.map((c) => this.used[c]!);
    for (const c of evicted) this.set(c, null);
    this.set(choice, way);
    for (const c of evicted) this.set(c, this.best(c));
    const costAfter = touched.reduce((sum, c) => sum + this.costOf(c), 0);
    if (costAfter < costBefore - LEAST_GAIN) return true;
    for (const c of touched) this.set(c, null);
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
  private readonly offered: Way<C>[][];
  private count = 0;
  private chosen: readonly number[] = [];

  constructor(private readonly choices: readonly Choice<C>[]) {
    this.offered = choices.map(() => []);
    choices.forEach((choice, i) => {
      this.offer(i, choice.candidates);
    });
  }

  /** More ways to set a label. */
  offer(choice: number, candidates: readonly C[]): void {
    const own = this.offered[choice]!;
    for (const candidate of candidates) own.push(wayOf(this.count++, choice, own.length, candidate));
  }

  /** The index of the chosen way of each label among all that were offered, or -1 where it is left out. */
  choose(): readonly number[] {
    const search = new Search(
      this.offered.map((own) =>
        [...own].sort((a, b) => a.candidate.cost - b.candidate.cost || a.index - b.index),
      ),
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
        for (const way of this.offered[c]!) {
          if (way.candidate.cost >= search.costOf(c)) continue;
          improved = search.tryMove(c, way) || improved;
        }
      }
      if (!improved) break;
    }
    this.chosen = this.choices.map((_, i) => search.usedBy(i)?.own ?? -1);
    return this.chosen;
  }

  /** The way last chosen for a label, or null where it is left out. */
  candidateOf(choice: number): C | null {
    const index = this.chosen[choice] ?? -1;
    return index < 0 ? null : this.offered[choice]![index]!.candidate;
  }
}
