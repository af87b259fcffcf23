import { ringLengthM } from '../../geometry';
import type { Bridge } from './bridges';
import type { Tooth } from './teeth';
import type { Tree } from './tree';

/** A loop comes out a little longer or shorter than its teeth promise: plan to this share of the limit. */
const PLANNED_SHARE = 0.97;
const HALVINGS = 24;

/**
 * The tree cut at some of its bridges so that no loop is longer than `limitM` and the longest is as short as that many
 * cuts allow. One tooth longer than the limit stays whole.
 *
 * @param extraCuts more loops than the lengths ask for, where an earlier try came out too long
 */
export function splitTree(tree: Tree, teeth: readonly Tooth[], limitM: number, extraCuts = 0): Tree {
  const lengthsM = teeth.map((tooth) => ringLengthM(tooth.outer));
  const totalM = lengthsM.reduce((sum, lengthM) => sum + lengthM, 0);
  if (totalM <= PLANNED_SHARE * limitM && extraCuts === 0) return tree;
  const fewest = cutAtCap(tree, lengthsM, PLANNED_SHARE * limitM).length;
  const wanted = fewest + extraCuts;
  let lowM = 0;
  let highM = Math.max(PLANNED_SHARE * limitM, totalM);
  for (let step = 0; step < HALVINGS; step++) {
    const middleM = (lowM + highM) / 2;
    if (cutAtCap(tree, lengthsM, middleM).length <= wanted) highM = middleM;
    else lowM = middleM;
  }
  const cuts = new Set(cutAtCap(tree, lengthsM, highM));
  return regroup(tree, teeth.length, cuts);
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
