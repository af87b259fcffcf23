import { evaluateEmitters } from './emitters';
import type { Figures, Topology } from './prepare';
import type { LinkState, Network, Solution } from './types';

/** Where Newton begins, in solver order. */
export interface Start {
  readonly headM: Float64Array;
  readonly flowM3s: Float64Array;
  readonly state: readonly (LinkState | undefined)[];
}

/**
 * A first guess: every junction at the head of its nearest source (or the setting of the regulator on the way), every
 * emitter giving what it would there, flows carried back to the sources along a tree of fewest links. Or a solution of
 * the same shape.
 */
export function startingPoint(
  network: Network,
  topology: Topology,
  figures: Figures,
  warm: Solution | undefined,
): Start {
  const { positionOfNode, numberOfLink, nodeCount, unknownCount, from } = topology;
  const state: (LinkState | undefined)[] = new Array(from.length).fill(undefined);
  if (
    warm !== undefined &&
    warm.status === 'settled' &&
    warm.headM.length === nodeCount &&
    warm.flowM3s.length === from.length
  ) {
    const headM = figures.heldHeadM.slice();
    for (let i = 0; i < nodeCount; i++)
      if (positionOfNode[i]! < unknownCount) headM[positionOfNode[i]!] = warm.headM[i]!;
    const flowM3s = new Float64Array(from.length);
    network.links.forEach((_, i) => {
      flowM3s[numberOfLink[i]!] = warm.flowM3s[i]!;
      state[numberOfLink[i]!] = warm.state[i];
    });
    return { headM, flowM3s, state };
  }
  const tree = growTree(topology, figures);
  for (const { link, setTotalHeadM } of figures.regulators) {
    const inlet = tree.headM[topology.from[link]!]!;
    state[link] = inlet > setTotalHeadM ? 'active' : 'open';
  }
  return { headM: tree.headM, flowM3s: treeFlows(topology, figures, tree), state };
}

interface Tree {
  /** Positions as reached. */
  readonly order: Int32Array;
  readonly count: number;
  /** Link by which each position was reached; -1 at a source. */
  readonly byLink: Int32Array;
  readonly headM: Float64Array;
}

function growTree(topology: Topology, figures: Figures): Tree {
  const { nodeCount, unknownCount, from, to } = topology;
  const { first, incident } = topology.incidence;
  const setting = new Map(figures.regulators.map((r) => [r.link, r.setTotalHeadM]));
  const headM = figures.heldHeadM.slice();
  const byLink = new Int32Array(nodeCount).fill(-2);
  const order = new Int32Array(nodeCount);
  let count = 0;
  for (let i = unknownCount; i < nodeCount; i++) {
    byLink[i] = -1;
    order[count++] = i;
  }
  for (let at = 0; at < count; at++) {
    const here = order[at]!;
    for (let p = first[here]!; p < first[here + 1]!; p++) {
      const link = incident[p]!;
      const other = from[link] === here ? to[link]! : from[link]!;
      if (byLink[other] !== -2 || figures.isClosed[link]) continue;
      byLink[other] = link;
      headM[other] = Math.min(headM[here]!, setting.get(link) ?? Number.POSITIVE_INFINITY);
      order[count++] = other;
    }
  }
  for (let i = 0; i < unknownCount; i++) if (byLink[i] === -2) headM[i] = figures.elevationM[i]!;
  return { order, count, byLink, headM };
}

function treeFlows(topology: Topology, figures: Figures, tree: Tree): Float64Array {
  const { from, to } = topology;
  const { emitters } = figures;
  const flow = new Float64Array(emitters.count);
  evaluateEmitters(emitters, tree.headM, flow, new Float64Array(emitters.count));
  const need = figures.demandM3s.slice();
  for (let i = 0; i < emitters.count; i++) need[emitters.node[i]!] = need[emitters.node[i]!]! + flow[i]!;
  const flowM3s = new Float64Array(from.length);
  for (let at = tree.count - 1; at >= 0; at--) {
    const here = tree.order[at]!;
    const link = tree.byLink[here]!;
    if (link < 0) continue;
    const isOutward = to[link] === here;
    const parent = isOutward ? from[link]! : to[link]!;
    flowM3s[link] = isOutward ? need[here]! : -need[here]!;
    need[parent] = need[parent]! + need[here]!;
  }
  return flowM3s;
}
