import type { EmitterLaw } from '../catalog';
import type { HydraulicConstants } from './constants';
import { type CurveLaw, lossLaw, supplyLaw } from './curves';
import { type EmitterLaws, emptyEmitters, setEmitter } from './emitters';
import { compilePipes, type PipeLaws } from './friction';
import type { Topology } from './topology';
import type { Network, NetworkLink } from './types';

/** A link whose law is a curve: supply, device, or a regulator standing open. */
export interface CurveLink {
  readonly link: number;
  readonly law: CurveLaw;
}

/** A regulator compiled: what it holds, and what it takes standing open. */
export interface RegulatorLink {
  readonly link: number;
  readonly openLaw: CurveLaw;
  /** Total head held at the outlet at no flow. */
  readonly setTotalHeadM: number;
  readonly droop: number;
  /** What an open regulator takes at the least: its minimum inlet less its setting. */
  readonly gapM: number;
}

/** The figures of a network, compiled along its topology. */
export interface Figures {
  readonly pipes: PipeLaws;
  readonly curves: readonly CurveLink[];
  readonly regulators: readonly RegulatorLink[];
  /** Links that let water pass one way only. */
  readonly oneWay: readonly number[];
  readonly emitters: EmitterLaws;
  readonly isClosed: Uint8Array;
  readonly heldHeadM: Float64Array;
  readonly demandM3s: Float64Array;
  readonly elevationM: Float64Array;
}

/** An extra outlet opened at a node: a flush valve, a cut end. */
export interface Outlet {
  readonly nodeId: string;
  readonly law: EmitterLaw;
}

/** Compiles the figures of a network along its topology. */
export function compileFigures(
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
  const oneWay: number[] = [];
  links.forEach((link, i) => {
    const at = numberOfLink[i]!;
    if (link.isClosed) isClosed[at] = 1;
    if (link.kind === 'supply') curves.push({ link: at, law: supplyLaw(link.curve) });
    if (link.kind === 'device') curves.push({ link: at, law: lossLaw(link.loss) });
    if (link.kind === 'device' && link.isOneWay) oneWay.push(at);
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
    oneWay,
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
