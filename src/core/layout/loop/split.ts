import { ringLengthM } from '../../geometry';
import type { Bridge } from './bridges';
import { evenCuts } from './evenCuts';
import type { Tooth } from './teeth';
import type { Tree } from './tree';

/** A loop comes out a little longer or shorter than its teeth promise: plan to this share of the limit. */
const PLANNED_SHARE = 0.97;
const HALVINGS = 24;

/** Loops are about equal where none is further than this share from their mean; where they are not, all their tubing weighs. */
const ABOUT_EQUAL_RATIO = 0.15;
const UNEVEN_WEIGHT = 8;
/** Teeth are shared out a little more evenly than loops have to come out. */
const WINDOW_RATIOS = [0.06, 0.09, 0.12, 0.16, 0.22, 0.3, 0.4, 0.55] as const;
/** Each loop more costs as much as this much tubing: a tee, a lead and a flush of its own (ours, stated). */
const LOOP_COST_M = 6;
/** So many times the fewest loops are looked at, to find some about equal. */
const MOST_LOOPS_RATIO = 1.45;

/** A tree cut into loops, and what their number and their unevenness cost, metres of tubing. */
export interface SplitPlan {
  readonly tree: Tree;
  readonly costM: number;
}

/** What loops that are not about equal cost, metres of tubing; 0 for one loop. */
export function unevenCostM(lengthsM: readonly number[]): number {
  const totalM = lengthsM.reduce((sum, lengthM) => sum + lengthM, 0);
  const meanM = totalM / Math.max(1, lengthsM.length);
  const strayRatio = Math.max(0, ...lengthsM.map((lengthM) => Math.abs(lengthM / meanM - 1)));
  return UNEVEN_WEIGHT * Math.max(0, strayRatio - ABOUT_EQUAL_RATIO) * totalM;
}

/**
 * The tree cut at some of its bridges so that no loop is longer than `limitM` and they are about equal, with no more loops than
 * that takes. Where teeth do not share out so, the longest is as short as the fewest cuts allow. One tooth longer than the
 * limit stays whole.
 *
 * @param extraCuts more loops than the lengths ask for, where an earlier try came out too long
 */
export function splitTree(tree: Tree, teeth: readonly Tooth[], limitM: number, extraCuts = 0): SplitPlan {
  const lengthsM = teeth.map((tooth) => ringLengthM(tooth.outer));
  const totalM = lengthsM.reduce((sum, lengthM) => sum + lengthM, 0);
  const capM = PLANNED_SHARE * limitM;
  if (totalM <= capM && extraCuts === 0) return { tree, costM: 0 };
  const fewest = cutAtCap(tree, lengthsM, capM).length;
  const base = tree.groups.length;
  let best = planned(tree, lengthsM, shortest(tree, lengthsM, capM, fewest + extraCuts));
  const fewestLoops = Math.max(2, Math.ceil(totalM / capM), base) + extraCuts;
  const mostLoops = MOST_LOOPS_RATIO * (fewest + base) + extraCuts;
  for (let loops = fewestLoops; loops <= mostLoops; loops++) {
    if (LOOP_COST_M * loops >= best.costM) break;
    const meanM = totalM / loops;
    for (const ratio of WINDOW_RATIOS) {
      const window = { leastM: (1 - ratio) * meanM, mostM: Math.min(capM, (1 + ratio) * meanM) };
      if (window.mostM < meanM) break;
      const cuts = evenCuts(tree, lengthsM, window);
      if (!cuts || cuts.length + base > mostLoops) continue;
      const plan = planned(tree, lengthsM, cuts);
      if (plan.costM < best.costM) best = plan;
      break;
    }
  }
  return best;
}

function planned(tree: Tree, lengthsM: readonly number[], cuts: readonly Bridge[]): SplitPlan {
  const cut = regroup(tree, lengthsM.length, new Set(cuts));
  const loopsM = cut.groups.map((group) => group.reduce((sum, tooth) => sum + lengthsM[tooth]!, 0));
  return { tree: cut, costM: LOOP_COST_M * loopsM.length + unevenCostM(loopsM) };
}

/** Cuts that make so many groups more, the longest of them as short as can be. */
function shortest(tree: Tree, lengthsM: readonly number[], capM: number, wanted: number): Bridge[] {
  let lowM = 0;
  let highM = Math.max(
    capM,
    lengthsM.reduce((sum, lengthM) => sum + lengthM, 0),
  );
  for (let step = 0; step < HALVINGS; step++) {
    const middleM = (lowM + highM) / 2;
    if (cutAtCap(tree, lengthsM, middleM).length <= wanted) highM = middleM;
    else lowM = middleM;
  }
  return cutAtCap(tree, lengthsM, highM);
}

/** Bridges to cut so that no group exceeds the cap: leaves first, the heaviest branches cut (Kundu and Misra, 1977). */
function cutAtCap(tree: Tree, lengthsM: readonly number[], capM: number): Bridge[] {
  const neighbours: { tooth: number; bridge: Bridge }[][] = lengthsM.map(() => []);
  for (const bridge of tree.bridges) {
    neighbours[bridge.lower]!.push({ tooth: bridge.upper, bridge });
    neighbours[bridge.upper]!.push({ tooth: bridge.lower, bridge });
  }
  const cuts: Bridge[] = [];
  const loadM = [...lengthsM];
  const up: (Bridge | null)[] = lengthsM.map(() => null);
  const seen = new Set<number>();
  for (const group of tree.groups) {
    const order: number[] = [group[0]!];
    seen.add(group[0]!);
    for (let index = 0; index < order.length; index++)
      for (const { tooth, bridge } of neighbours[order[index]!]!) {
        if (seen.has(tooth)) continue;
        seen.add(tooth);
        up[tooth] = bridge;
        order.push(tooth);
      }
    for (const tooth of order.reverse()) {
      const branches = neighbours[tooth]!.filter(({ tooth: child, bridge }) => up[child] === bridge).sort(
        (one, other) => loadM[one.tooth]! - loadM[other.tooth]! || one.tooth - other.tooth,
      );
      for (const { tooth: child, bridge } of branches) {
        if (loadM[tooth]! + loadM[child]! <= capM) loadM[tooth] = loadM[tooth]! + loadM[child]!;
        else cuts.push(bridge);
      }
    }
  }
  return cuts;
}

function regroup(tree: Tree, toothCount: number, cuts: ReadonlySet<Bridge>): Tree {
  const bridges = tree.bridges.filter((bridge) => !cuts.has(bridge));
  const groupOf = Array.from({ length: toothCount }, (_, tooth) => tooth);
  for (let changed = true; changed; ) {
    changed = false;
    for (const { lower, upper } of bridges) {
      const first = Math.min(groupOf[lower]!, groupOf[upper]!);
      if (groupOf[lower] === first && groupOf[upper] === first) continue;
      groupOf[lower] = first;
      groupOf[upper] = first;
      changed = true;
    }
  }
  const groups = new Map<number, number[]>();
  groupOf.forEach((group, tooth) => {
    const members = groups.get(group);
    if (members) members.push(tooth);
    else groups.set(group, [tooth]);
  });
  return { bridges, groups: [...groups.values()] };
}
