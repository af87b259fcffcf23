import type { EmitterLaw } from '../catalog';
import { figureIssues, incidence, inspectNetwork, type NetworkIssue, reachIssues } from './check';
import { type HydraulicConstants, STANDARD_CONSTANTS } from './constants';
import { type CurveLaw, lossLaw, supplyLaw } from './curves';
import { type EmitterLaws, emptyEmitters, setEmitter } from './emitters';
import { layOutPattern, type Pattern } from './factor';
import { compilePipes, type PipeLaws } from './friction';
import type { Network, NetworkLink } from './types';

/** A link whose law is a curve: supply, device, or a regulator standing open. */
export interface CurveLink {
  readonly link: number;
  readonly law: CurveLaw;
}

export interface RegulatorLink {
  readonly link: number;
  readonly openLaw: CurveLaw;
  /** Total head held at the outlet at no flow. */
  readonly setTotalHeadM: number;
  readonly droop: number;
  /** What an open regulator takes at the least: its minimum inlet less its setting. */
  readonly gapM: number;
}

/** Everything of a network that the solver needs and that a change of figures does not move. */
export interface Topology {
  readonly nodeCount: number;
  readonly unknownCount: number;
  /** Solver position of each node: unknown heads first, in elimination order, then held heads. */
  readonly positionOfNode: Int32Array;
  /** Solver number of each link: pipes first. */
  readonly numberOfLink: Int32Array;
  readonly from: Int32Array;
  readonly to: Int32Array;
  /** Ends of each link of the network, as places in its list of nodes. */
  readonly fromNode: Int32Array;
  readonly toNode: Int32Array;
  readonly pattern: Pattern;
  /** Solver links that meet at each solver position. */
  readonly incidence: ReturnType<typeof incidence>;
}

/** The figures of a network, compiled along its topology. */
export interface Figures {
  readonly pipes: PipeLaws;
  readonly curves: readonly CurveLink[];
  readonly regulators: readonly RegulatorLink[];
  readonly emitters: EmitterLaws;
  readonly isClosed: Uint8Array;
  readonly heldHeadM: Float64Array;
  readonly demandM3s: Float64Array;
  readonly elevationM: Float64Array;
}

/** A network made ready to be solved again and again. */
export interface PreparedNetwork {
  readonly network: Network;
  readonly constants: HydraulicConstants;
  readonly issues: readonly NetworkIssue[];
  /** Null where the network is refused. */
  readonly topology: Topology | null;
  readonly figures: Figures | null;
}

/** An extra outlet opened at a node: a flush valve, a cut end. */
export interface Outlet {
  readonly nodeId: string;
  readonly law: EmitterLaw;
}

/**
 * Checks a network, orders its unknowns and compiles its laws. Linear in its size on paths, trees, ladders and loops.
 * A network that cannot be solved is returned with its issues.
 */
export function prepareNetwork(
  network: Network,
  constants: HydraulicConstants = STANDARD_CONSTANTS,
): PreparedNetwork {
  const { issues, from, to } = inspectNetwork(network);
  if (issues.length > 0) return { network, constants, issues, topology: null, figures: null };
  const topology = layOutTopology(network, from, to);
  return { network, constants, issues, topology, figures: compileFigures(network, topology, constants, []) };
}

/**
 * The same network with other figures and the same shape (ids and ends unchanged), its ordering kept.
 * Fails: throws where the shape differs, a bug of the caller; a figure that cannot be solved comes back as an issue.
 */
export function withFigures(
  prepared: PreparedNetwork,
  network: Network,
  outlets: readonly Outlet[] = [],
): PreparedNetwork {
  const { constants, topology } = prepared;
  if (topology === null || !hasSameShape(prepared.network, network))
    throw new Error('withFigures needs a sound prepared network, and one of its shape');
  const faults = figureIssues(network, prepared.network);
  const issues = faults.length > 0 ? faults : reachIssues(network, topology.fromNode, topology.toNode);
  if (issues.length > 0) return { network, constants, issues, topology: null, figures: null };
  return {
    network,
    constants,
    issues,
    topology,
    figures: compileFigures(network, topology, constants, outlets),
  };
}

function hasSameShape(a: Network, b: Network): boolean {
  return (
    a.nodes.length === b.nodes.length &&
    a.links.length === b.links.length &&
    a.nodes.every((node, i) => {
      const other = b.nodes[i]!;
      return (
        node === other ||
        (node.id === other.id && (node.fixedHeadM === undefined) === (other.fixedHeadM === undefined))
      );
    }) &&
    a.links.every((link, i) => {
      const other = b.links[i]!;
      return link === other || (link.kind === other.kind && link.from === other.from && link.to === other.to);
    })
  );
}

function layOutTopology(network: Network, fromNode: Int32Array, toNode: Int32Array): Topology {
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
  return {
    nodeCount,
    unknownCount,
    positionOfNode,
    numberOfLink,
    from,
    to,
    fromNode,
    toNode,
    pattern,
    incidence: incidence(nodeCount, from, to),
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

function compileFigures(
  network: Network,
  topology: Topology,
  constants: HydraulicConstants,
  outlets: readonly Outlet[],
): Figures {
  const { nodes, links } = network;
  const { positionOfNode, numberOfLink, to } = topology;
  const heldHeadM = new Float64Array(nodes.length);
  const demandM3s = new Float64Array(nodes.length);
  const elevationM = new Float64Array(nodes.length);
  nodes.forEach((node, i) => {
    const at = positionOfNode[i]!;
    heldHeadM[at] = node.fixedHeadM ?? 0;
    demandM3s[at] = node.demandM3s ?? 0;
    elevationM[at] = node.elevationM;
  });
  const isClosed = new Uint8Array(links.length);
  const curves: CurveLink[] = [];
  const regulators: RegulatorLink[] = [];
  links.forEach((link, i) => {
    const at = numberOfLink[i]!;
    if (link.isClosed) isClosed[at] = 1;
    if (link.kind === 'supply') curves.push({ link: at, law: supplyLaw(link.curve) });
    if (link.kind === 'device') curves.push({ link: at, law: lossLaw(link.loss) });
    if (link.kind === 'regulator')
      regulators.push({
        link: at,
        openLaw: lossLaw(link.loss),
        setTotalHeadM: elevationM[to[at]!]! + link.setHeadM,
        droop: link.droop,
        gapM: Math.max(0, link.minInletHeadM - link.setHeadM),
      });
  });
  const isPipe = (link: NetworkLink) => link.kind === 'pipe';
  return {
    pipes: compilePipes(links.filter(isPipe), network.kinematicViscosityM2s, constants),
    curves,
    regulators,
    emitters: compileEmitters(network, topology, outlets),
    isClosed,
    heldHeadM,
    demandM3s,
    elevationM,
  };
}

function compileEmitters(network: Network, topology: Topology, outlets: readonly Outlet[]): EmitterLaws {
  const { nodes } = network;
  const found: { readonly node: number; readonly law: EmitterLaw }[] = [];
  const extra = new Map<string, EmitterLaw[]>();
  for (const { nodeId, law } of outlets) extra.set(nodeId, [...(extra.get(nodeId) ?? []), law]);
  nodes.forEach((node, i) => {
    if (node.fixedHeadM !== undefined) return;
    if (node.emitter !== undefined) found.push({ node: i, law: node.emitter });
    for (const law of extra.get(node.id) ?? []) found.push({ node: i, law });
  });
  const laws = emptyEmitters(found.length);
  found.forEach(({ node, law }, i) => {
    setEmitter(laws, i, topology.positionOfNode[node]!, nodes[node]!.elevationM, law);
  });
  return laws;
}
