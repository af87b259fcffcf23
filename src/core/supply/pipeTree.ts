import {
  distanceM,
  distanceToSegmentM,
  nearestOnSegment,
  type PlanPoint,
  type Polyline,
  polylineLengthM,
  quantisePoint,
  SAME_POINT_M,
  STRAIGHT_TOLERANCE_M,
} from '../geometry';
import type { Steps } from '../units';
import type { TrenchGraph } from './trenchGraph';

/** One place of a pipe tree. */
export interface TreeNode {
  readonly at: PlanPoint;
  /** Index of the node the water comes from; null at the root. */
  parent: number | null;
  /** What is fed here (bed or zone ids). */
  readonly feeds: string[];
  locked: boolean;
}

/** Pipe from one root to several ends, as straight lines between nodes. */
export interface PipeTree {
  readonly nodes: TreeNode[];
  /** Ends no trench reaches. */
  readonly unreached: readonly string[];
}

/** A straight-through length between two fittings: from, to (node indices) and the bends between. */
export interface Branch {
  readonly from: number;
  readonly to: number;
  readonly path: Polyline;
  readonly lengthM: number;
  readonly bends: number;
  readonly locked: boolean;
  /** Everything fed beyond. */
  readonly feeds: readonly string[];
}

/** What a tree has to reach. */
export interface TreeTarget {
  readonly id: string;
  readonly at: PlanPoint;
}

const same = (a: PlanPoint, b: PlanPoint): boolean => distanceM(a, b) <= SAME_POINT_M;

/** The node at a point, splitting the line it lies on; null where the tree does not pass there. */
function nodeAt(nodes: TreeNode[], point: PlanPoint): number | null {
  const existing = nodes.findIndex(({ at }) => same(at, point));
  if (existing >= 0) return existing;
  for (const [index, node] of nodes.entries()) {
    if (node.parent === null) continue;
    const on = nearestOnSegment(point, nodes[node.parent]!.at, node.at);
    if (on.distanceM > 2 * SAME_POINT_M) continue;
    nodes.push({ at: point, parent: node.parent, feeds: [], locked: node.locked });
    nodes[index]!.parent = nodes.length - 1;
    return nodes.length - 1;
  }
  return null;
}

function addPath(nodes: TreeNode[], path: Polyline, locked: boolean): number {
  let last = nodeAt(nodes, path[0]!)!;
  for (const point of path.slice(1)) {
    const at = quantisePoint(point);
    if (same(nodes[last]!.at, at)) continue;
    nodes.push({ at, parent: last, feeds: [], locked });
    last = nodes.length - 1;
  }
  return last;
}

/** Places from which the tree may branch: its nodes, and on each line the foot of the perpendicular from the goal. */
function branchPoints(nodes: readonly TreeNode[], goal: PlanPoint): PlanPoint[] {
  const points = nodes.map(({ at }) => at);
  for (const node of nodes) {
    if (node.parent === null) continue;
    const foot = quantisePoint(nearestOnSegment(goal, nodes[node.parent]!.at, node.at).at);
    if (!points.some((point) => same(point, foot))) points.push(foot);
  }
  return points;
}

/** How far a place is from the pipe there is. */
const awayFromM = (nodes: readonly TreeNode[], point: PlanPoint): number =>
  Math.min(
    ...nodes.map(({ at, parent }) =>
      parent === null ? distanceM(at, point) : nearestOnSegment(point, nodes[parent]!.at, at).distanceM,
    ),
  );

/** Puts a pipe drawn by hand into the tree: led to from wherever the tree is nearest, then kept exactly as drawn. */
function* addLockedSteps(nodes: TreeNode[], graph: TrenchGraph, drawn: Polyline): Steps<void> {
  const isForward = awayFromM(nodes, drawn[0]!) <= awayFromM(nodes, drawn.at(-1)!);
  const path = isForward ? drawn : [...drawn].reverse();
  const start = path[0]!;
  if (nodeAt(nodes, start) === null) {
    const lead = yield* graph.findWaySteps(branchPoints(nodes, start), start);
    addPath(nodes, lead ? lead.points : [nodes[0]!.at, start], false);
  }
  addPath(nodes, path, true);
}

/** Every pipe drawn by hand, the one nearest to the tree first: a branch is often drawn before what it branches from. */
function* addAllLockedSteps(nodes: TreeNode[], graph: TrenchGraph, locked: readonly Polyline[]): Steps<void> {
  const waiting = locked.map((path) => path.map(quantisePoint));
  while (waiting.length > 0) {
    const awayM = waiting.map((path) => Math.min(awayFromM(nodes, path[0]!), awayFromM(nodes, path.at(-1)!)));
    const [next] = waiting.splice(awayM.indexOf(Math.min(...awayM)), 1);
    yield* addLockedSteps(nodes, graph, next!);
  }
}

/**
 * Pipe from a root to every target by the cheapest trenches: the nearest end is joined first, each next one from wherever
 * on the tree it is cheapest (the usual shortest-path heuristic for Steiner trees, Takahashi and Matsuyama 1980).
 *
 * @param locked pipe drawn by hand, kept as it is
 */
export function* growTreeSteps(
  graph: TrenchGraph,
  root: PlanPoint,
  targets: readonly TreeTarget[],
  locked: readonly Polyline[] = [],
): Steps<PipeTree> {
  const nodes: TreeNode[] = [{ at: quantisePoint(root), parent: null, feeds: [], locked: false }];
  yield* addAllLockedSteps(nodes, graph, locked);
  const waiting = targets.map(({ id, at }) => ({ id, at: quantisePoint(at) }));
  const unreached: string[] = [];
  while (waiting.length > 0) {
    const nearest = waiting
      .map((target, index) => ({
        index,
        awayM: Math.min(...branchPoints(nodes, target.at).map((point) => distanceM(point, target.at))),
      }))
      .sort((a, b) => a.awayM - b.awayM || a.index - b.index)[0]!;
    const [target] = waiting.splice(nearest.index, 1);
    const reached = nodeAt(nodes, target!.at);
    if (reached !== null) {
      nodes[reached]!.feeds.push(target!.id);
      continue;
    }
    const way = yield* graph.findWaySteps(branchPoints(nodes, target!.at), target!.at);
    if (way === null) unreached.push(target!.id);
    else nodes[addPath(nodes, way.points, false)]!.feeds.push(target!.id);
  }
  const tree = { nodes, unreached };
  for (const { at, parent } of nodes) if (parent !== null) graph.share([nodes[parent]!.at, at]);
  return tree;
}

function childrenOf(nodes: readonly TreeNode[]): number[][] {
  const children: number[][] = nodes.map(() => []);
  nodes.forEach(({ parent }, index) => {
    if (parent !== null) children[parent]!.push(index);
  });
  return children;
}

function feedsBeyond(nodes: readonly TreeNode[], children: readonly number[][], node: number): string[] {
  return [...nodes[node]!.feeds, ...children[node]!.flatMap((child) => feedsBeyond(nodes, children, child))];
}

/** Nodes with pipe to them: the root, and what leads to something fed or was drawn by hand; in the order of the tree. */
export function keptNodes({ nodes }: PipeTree): number[] {
  const children = childrenOf(nodes);
  return [...nodes.keys()].filter(
    (node) => node === 0 || nodes[node]!.locked || feedsBeyond(nodes, children, node).length > 0,
  );
}

/**
 * The tree as straight-through lengths between tees, ends and changes of lock, from the root outwards. Ends that feed
 * nothing are dropped, unless drawn by hand.
 *
 * @param fitted nodes where a fitting of another kind (a drain point) parts the pipe
 */
export function branchesOf(tree: PipeTree, fitted: readonly number[] = []): Branch[] {
  const { nodes } = tree;
  const children = childrenOf(nodes);
  const branches: Branch[] = [];
  const isThrough = (node: number): boolean => {
    const next = children[node]!;
    if (next.length !== 1 || nodes[node]!.feeds.length > 0 || fitted.includes(node)) return false;
    return nodes[next[0]!]!.locked === nodes[node]!.locked;
  };
  const walk = (from: number): void => {
    for (const child of children[from]!) {
      const chain = [from, child];
      let last = child;
      while (isThrough(last)) {
        last = children[last]![0]!;
        chain.push(last);
      }
      const path = chain.map((index) => nodes[index]!.at);
      const feeds = feedsBeyond(nodes, children, last);
      const locked = nodes[child]!.locked;
      if (feeds.length > 0 || locked) {
        branches.push({
          from,
          to: last,
          path: dropStraight(path),
          lengthM: polylineLengthM(path),
          bends: Math.max(0, dropStraight(path).length - 2),
          locked,
          feeds,
        });
      }
      walk(last);
    }
  };
  walk(0);
  return branches;
}

/** The path without points that lie on the straight line of their neighbours. */
function dropStraight(path: Polyline): PlanPoint[] {
  const kept: PlanPoint[] = [path[0]!];
  for (let index = 1; index < path.length - 1; index++) {
    const a = kept.at(-1)!;
    const b = path[index]!;
    const c = path[index + 1]!;
    if (distanceToSegmentM(b, a, c) > STRAIGHT_TOLERANCE_M) kept.push(b);
  }
  kept.push(path.at(-1)!);
  return kept;
}
