import { distanceM, type PlanPoint, polylineLengthM } from '../geometry';
import { alongPath } from './crossings';
import type { HeightAt } from './elevation';
import { type Branch, keptNodes, type PipeTree } from './pipeTree';

/** Water that would have to climb less than this to run out makes no low point of its own, m (ours). */
const STANDING_M = 0.3;
const LEVEL_M = 1e-6;

interface Place {
  readonly node: number;
  readonly heightM: number;
  readonly awayM: number;
}

/** The lowest first; of equals the furthest along the pipe, so that level pipe drains at an end. */
const isLower = (one: Place, other: Place): boolean =>
  one.heightM < other.heightM - LEVEL_M ||
  (one.heightM < other.heightM + LEVEL_M && one.awayM > other.awayM + LEVEL_M);

/** Nodes whose water runs out at a drain, which climbs nowhere on its way by as much as a low point asks for. */
function drainedAt(
  drain: number,
  neighbours: readonly (readonly number[])[],
  heightM: readonly number[],
): number[] {
  const drained: number[] = [];
  const walk = (node: number, from: number, ridgeM: number): void => {
    const highestM = Math.max(ridgeM, heightM[node]!);
    if (highestM - heightM[node]! < STANDING_M) drained.push(node);
    for (const next of neighbours[node]!) if (next !== from) walk(next, node, highestM);
  };
  walk(drain, -1, Number.NEGATIVE_INFINITY);
  return drained;
}

/**
 * Nodes of a pipe tree that need a drain point so that no pipe stands full over winter: the lowest, and every other from
 * which water would have to climb 0.3 m or more to come to one. None where there is no pipe.
 * Common practice (a drain at each low point), no source.
 *
 * @param heightAt ground; pipe of one tree lies equally deep all along
 */
export function lowPoints(tree: PipeTree, heightAt: HeightAt): number[] {
  const kept = keptNodes(tree);
  if (kept.length < 2) return [];
  const neighbours: number[][] = tree.nodes.map(() => []);
  const awayM: number[] = tree.nodes.map(() => 0);
  const heightM = tree.nodes.map(({ at }) => heightAt(at));
  const measure = (node: number): void => {
    for (const child of kept) {
      if (tree.nodes[child]!.parent !== node) continue;
      neighbours[node]!.push(child);
      neighbours[child]!.push(node);
      awayM[child] = awayM[node]! + distanceM(tree.nodes[node]!.at, tree.nodes[child]!.at);
      measure(child);
    }
  };
  measure(0);
  const standing = new Set(kept);
  const drains: number[] = [];
  while (standing.size > 0) {
    const lowest = [...standing]
      .map((node): Place => ({ node, heightM: heightM[node]!, awayM: awayM[node]! }))
      .reduce((best, place) => (isLower(place, best) ? place : best));
    drains.push(lowest.node);
    standing.delete(lowest.node);
    for (const node of drainedAt(lowest.node, neighbours, heightM)) standing.delete(node);
  }
  return drains;
}

/** How far before the end of a pipe its drain stands, m, so that it is not in the valve box or on the stub-up there (ours). */
const BESIDE_END_M = 0.45;

/** Where a drain stands on its trench: at its node, or a step before it where the pipe ends there. */
export function drainPlace(tree: PipeTree, branches: readonly Branch[], node: number): PlanPoint {
  const touching = branches.filter(({ from, to }) => from === node || to === node);
  const [only] = touching;
  if (touching.length !== 1 || !only) return tree.nodes[node]!.at;
  const path = only.from === node ? only.path : [...only.path].reverse();
  return alongPath(path, Math.min(BESIDE_END_M, polylineLengthM(path) / 2)).at;
}
