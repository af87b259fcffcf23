import { layOutPattern, type Pattern } from './factor';
import { incidence } from './incidence';
import { growTree, type Shape, type Tree } from './tree';
import type { Network, NetworkLink } from './types';
import type { Scratch } from './work';

/** Everything of a network that the solver needs and that a change of figures does not move. */
export interface Topology extends Shape {
  /** Solver position of each node: unknown heads first, in elimination order, then held heads. */
  readonly positionOfNode: Int32Array;
  /** Solver number of each link: pipes first. */
  readonly numberOfLink: Int32Array;
  /** Ends of each link of the network, as places in its list of nodes. */
  readonly fromNode: Int32Array;
  readonly toNode: Int32Array;
  readonly pattern: Pattern;
  readonly tree: Tree;
  /** Room the solver works in, laid out at its first use; never a result. */
  readonly scratch: Scratch;
}

/** Numbers the heads in elimination order and the links with pipes first, and lays out the factor. */
export function layOutTopology(network: Network, fromNode: Int32Array, toNode: Int32Array): Topology {
  const { nodes, links } = network;
  const nodeCount = nodes.length;
  const linkCount = links.length;
  const unknownOf = new Int32Array(nodeCount).fill(-1);
  let unknownCount = 0;
  for (let i = 0; i < nodeCount; i++) if (nodes[i]!.fixedHeadM === undefined) unknownOf[i] = unknownCount++;
  const unknown = (node: number) => unknownOf[node]!;
  const order = linkOrder(links);
  const from = order.map((link) => fromNode[link]!);
  const to = order.map((link) => toNode[link]!);
  const pattern = layOutPattern(unknownCount, from.map(unknown), to.map(unknown));
  const positionOfNode = new Int32Array(nodeCount);
  let held = unknownCount;
  for (let i = 0; i < nodeCount; i++)
    positionOfNode[i] = unknownOf[i]! >= 0 ? pattern.place[unknownOf[i]!]! : held++;
  const numberOfLink = new Int32Array(linkCount);
  for (let i = 0; i < linkCount; i++) {
    numberOfLink[order[i]!] = i;
    from[i] = positionOfNode[from[i]!]!;
    to[i] = positionOfNode[to[i]!]!;
  }
  const shape = { nodeCount, unknownCount, from, to, incidence: incidence(nodeCount, from, to) };
  return {
    ...shape,
    positionOfNode,
    numberOfLink,
    fromNode,
    toNode,
    pattern,
    tree: growTree(shape, new Uint8Array(linkCount)),
    scratch: { work: null },
  };
}

/** Links as the solver numbers them: pipes first. */
function linkOrder(links: readonly NetworkLink[]): Int32Array {
  const order = new Int32Array(links.length);
  let next = 0;
  for (let i = 0; i < links.length; i++) if (links[i]!.kind === 'pipe') order[next++] = i;
  for (let i = 0; i < links.length; i++) if (links[i]!.kind !== 'pipe') order[next++] = i;
  return order;
}
