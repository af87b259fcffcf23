import type { Bridge } from './bridges';

/** Which things hang together; `join` says whether it changed anything. */
export class Groups {
  private readonly parent: number[];

  constructor(count: number) {
    this.parent = Array.from({ length: count }, (_, index) => index);
  }

  /** The one that stands for the group of `item`. */
  of(item: number): number {
    let root = item;
    while (this.parent[root] !== root) root = this.parent[root]!;
    this.parent[item] = root;
    return root;
  }

  /** Makes one group of two; false where they were one already. */
  join(one: number, other: number): boolean {
    const first = this.of(one);
    const second = this.of(other);
    if (first === second) return false;
    this.parent[Math.max(first, second)] = Math.min(first, second);
    return true;
  }
}

/** Teeth joined by as few bridges as there can be: no ground is closed in, because a tree has no ring. */
export interface Tree {
  readonly bridges: readonly Bridge[];
  /** Teeth that hang together, each group ascending, groups by their first tooth. */
  readonly groups: readonly (readonly number[])[];
}

/**
 * The cheapest spanning tree over the teeth (Kruskal, 1956). `accepts` may turn a bridge down.
 *
 * @param bridges cheapest first
 */
export function spanTeeth(
  toothCount: number,
  bridges: readonly Bridge[],
  accepts: (bridge: Bridge, taken: readonly Bridge[]) => boolean = () => true,
): Tree {
  const groups = new Groups(toothCount);
  const taken: Bridge[] = [];
  for (const bridge of bridges) {
    if (groups.of(bridge.lower) === groups.of(bridge.upper)) continue;
    if (!accepts(bridge, taken)) continue;
    groups.join(bridge.lower, bridge.upper);
    taken.push(bridge);
  }
  return { bridges: taken, groups: groupsOf(toothCount, groups) };
}

function groupsOf(count: number, groups: Groups): number[][] {
  const byRoot = new Map<number, number[]>();
  for (let item = 0; item < count; item++) {
    const root = groups.of(item);
    const group = byRoot.get(root);
    if (group) group.push(item);
    else byRoot.set(root, [item]);
  }
  return [...byRoot.values()];
}
