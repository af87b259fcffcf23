import { figureIssues, inspectNetwork, type NetworkIssue, reachIssues } from './check';
import { type HydraulicConstants, STANDARD_CONSTANTS } from './constants';
import { compileFigures, type Figures, type Outlet } from './figures';
import { layOutTopology, type Topology } from './topology';
import type { Network } from './types';

/** A network made ready to be solved again and again. */
export interface PreparedNetwork {
  readonly network: Network;
  readonly constants: HydraulicConstants;
  readonly issues: readonly NetworkIssue[];
  /** Null where the network is refused. */
  readonly topology: Topology | null;
  readonly figures: Figures | null;
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
