import type { Bridge } from './bridges';
import type { Tree } from './tree';

/** Lengths of open groups nearer than this are taken for one, metres: the better of them is followed. */
const SAME_LENGTH_M = 0.25;

/** Lengths that a loop of a split tree may have, metres. */
export interface LengthWindow {
  readonly leastM: number;
  readonly mostM: number;
}

/** A way to cut the teeth below one tooth: the length of the group still open at it, and the cuts made so far. */
interface Way {
  readonly openM: number;
  readonly cuts: CutList | null;
  readonly count: number;
}

/** Cuts of a way, shared with the ways it came from. */
interface CutList {
  readonly bridge: Bridge | null;
  readonly one: CutList | null;
  readonly other: CutList | null;
}

/**
 * Bridges to cut so that every loop is as long as the window allows, with as few loops as that takes; null where no cuts do
 * that. Teeth that hang together with no others, too short by themselves, stay a loop.
 *
 * From the leaves up, each tooth keeps one way of cutting what hangs below it for every length that its open group can have.
 */
export function evenCuts(
  tree: Tree,
  lengthsM: readonly number[],
  { leastM, mostM }: LengthWindow,
): Bridge[] | null {
  const neighbours: { tooth: number; bridge: Bridge }[][] = lengthsM.map(() => []);
  for (const bridge of tree.bridges) {
    neighbours[bridge.lower]!.push({ tooth: bridge.upper, bridge });
    neighbours[bridge.upper]!.push({ tooth: bridge.lower, bridge });
  }
  const cuts: Bridge[] = [];
  for (const group of tree.groups) {
    const wholeM = group.reduce((sum, tooth) => sum + lengthsM[tooth]!, 0);
    if (wholeM <= leastM) continue;
    const ways = waysAt(group[0]!, neighbours, lengthsM, mostM, leastM);
    const closed = ways.filter((way) => way.openM >= leastM).sort((one, other) => one.count - other.count)[0];
    if (!closed) return null;
    collect(closed.cuts, cuts);
  }
  return cuts;
}

function waysAt(
  root: number,
  neighbours: readonly (readonly { tooth: number; bridge: Bridge }[])[],
  lengthsM: readonly number[],
  mostM: number,
  leastM: number,
): Way[] {
  const order: { tooth: number; up: Bridge | null; parent: number }[] = [
    { tooth: root, up: null, parent: -1 },
  ];
  for (let index = 0; index < order.length; index++) {
    const { tooth, up } = order[index]!;
    for (const next of neighbours[tooth]!)
      if (next.bridge !== up) order.push({ tooth: next.tooth, up: next.bridge, parent: index });
  }
  const ways: Way[][] = order.map(({ tooth }) => [{ openM: lengthsM[tooth]!, cuts: null, count: 0 }]);
  for (let index = order.length - 1; index > 0; index--) {
    const { up, parent } = order[index]!;
    ways[parent] = joined(ways[parent]!, ways[index]!, up!, mostM, leastM);
  }
  return ways[0]!;
}

/** The ways at a tooth with what hangs below one of its bridges: cut off there where that is long enough, or taken along. */
function joined(
  above: readonly Way[],
  below: readonly Way[],
  bridge: Bridge,
  mostM: number,
  leastM: number,
): Way[] {
  const best = new Map<number, Way>();
  const note = (way: Way): void => {
    if (way.openM > mostM) return;
    const key = Math.round(way.openM / SAME_LENGTH_M);
    const known = best.get(key);
    if (!known || way.count < known.count) best.set(key, way);
  };
  for (const one of above)
    for (const other of below) {
      if (other.openM >= leastM)
        note({
          openM: one.openM,
          cuts: { bridge, one: one.cuts, other: other.cuts },
          count: one.count + other.count + 1,
        });
      note({
        openM: one.openM + other.openM,
        cuts: one.cuts || other.cuts ? { bridge: null, one: one.cuts, other: other.cuts } : null,
        count: one.count + other.count,
      });
    }
  return [...best.values()];
}

function collect(list: CutList | null, into: Bridge[]): void {
  const open = [list];
  while (open.length > 0) {
    const next = open.pop();
    if (!next) continue;
    if (next.bridge) into.push(next.bridge);
    open.push(next.one, next.other);
  }
}
