import type { Figures } from './figures';
import type { PreparedNetwork } from './prepare';
import type { Topology } from './topology';
import type { LinkState, Solution } from './types';
import { OPEN, type Work } from './work';

/** Names of the states as the solver numbers them. */
export const STATE_NAMES: readonly LinkState[] = ['open', 'active', 'closed'];

/** A solution that says only why there is none. */
export function refusedSolution(prepared: PreparedNetwork): Solution {
  const { nodes, links } = prepared.network;
  return {
    status: 'refused',
    iterations: 0,
    worstResidualM3s: 0,
    worstNodeId: null,
    headM: new Float64Array(nodes.length),
    outflowM3s: new Float64Array(nodes.length),
    flowM3s: new Float64Array(links.length),
    velocityMs: new Float64Array(links.length),
    headlossM: new Float64Array(links.length),
    state: links.map((link) => (link.isClosed ? 'closed' : 'open')),
    issues: prepared.issues,
  };
}

/**
 * Puts the result in the network's order and checks the balance of every junction afresh. Should the search have run off
 * to figures that are no numbers, none is given: all stand at 0, unsettled.
 */
export function report(
  prepared: PreparedNetwork,
  topology: Topology,
  figures: Figures,
  work: Work,
  ending: { readonly iterations: number; readonly hasSettled: boolean },
): Solution {
  const { nodes } = prepared.network;
  const { worst, worstResidualM3s, headM, outflowM3s } = nodeFigures(topology, figures, work);
  const { state, ...ofLinks } = linkFigures(prepared, topology, figures, work, headM);
  const columns = [headM, outflowM3s, ofLinks.flowM3s, ofLinks.velocityMs, ofLinks.headlossM];
  const areFinite = columns.every((column) => column.every(Number.isFinite));
  if (!areFinite) for (const column of columns) column.fill(0);
  const hasOutlet = figures.emitters.count > 0 || figures.demandM3s.some((q) => q !== 0);
  return {
    status: ending.hasSettled && areFinite ? 'settled' : 'unsettled',
    iterations: ending.iterations,
    worstResidualM3s: areFinite ? worstResidualM3s : 0,
    worstNodeId: nodes[worst]?.id ?? null,
    headM,
    outflowM3s,
    ...ofLinks,
    state,
    issues: hasOutlet ? [] : [{ code: 'hydraulics.no-outflow', id: '' }],
  };
}

/** Heads and outflows along the network's nodes, and the junction that balances worst. */
function nodeFigures(topology: Topology, figures: Figures, work: Work) {
  const { positionOfNode, unknownCount, nodeCount } = topology;
  const { out, balance } = balances(topology, figures, work);
  const headM = new Float64Array(nodeCount);
  const outflowM3s = new Float64Array(nodeCount);
  let worst = 0;
  let worstResidualM3s = 0;
  for (let i = 0; i < nodeCount; i++) {
    const at = positionOfNode[i]!;
    if (at >= unknownCount) {
      headM[i] = figures.heldHeadM[at]!;
      outflowM3s[i] = balance[at]!;
      continue;
    }
    headM[i] = work.headM[at]!;
    outflowM3s[i] = out[at]!;
    const residual = Math.abs(balance[at]!);
    if (residual <= worstResidualM3s) continue;
    worst = i;
    worstResidualM3s = residual;
  }
  return { worst, worstResidualM3s, headM, outflowM3s };
}

/** Flows, velocities, losses and states along the network's links. */
function linkFigures(
  { network }: PreparedNetwork,
  topology: Topology,
  figures: Figures,
  work: Work,
  headM: Float64Array,
) {
  const { links } = network;
  const { numberOfLink, fromNode, toNode } = topology;
  const { pipes, isClosed } = figures;
  const flowM3s = new Float64Array(links.length);
  const velocityMs = new Float64Array(links.length);
  const headlossM = new Float64Array(links.length);
  const state: LinkState[] = new Array(links.length).fill('open');
  for (let i = 0; i < links.length; i++) {
    const at = numberOfLink[i]!;
    const flow = work.flowM3s[at]!;
    flowM3s[i] = flow;
    headlossM[i] = headM[fromNode[i]!]! - headM[toNode[i]!]!;
    if (at < pipes.count) velocityMs[i] = Math.abs(flow) / pipes.areaM2[at]!;
    const link = links[i]!;
    const hasState = link.kind === 'regulator' || (link.kind === 'device' && link.isOneWay);
    if (work.state[at] !== OPEN && (isClosed[at] || hasState)) state[i] = STATE_NAMES[work.state[at]!]!;
  }
  return { flowM3s, velocityMs, headlossM, state };
}

/** What leaves each position, and what its links bring less that. */
function balances(topology: Topology, figures: Figures, work: Work) {
  const { from, to } = topology;
  const { emitters } = figures;
  const out = figures.demandM3s.slice();
  for (let i = 0; i < emitters.count; i++)
    out[emitters.node[i]!] = out[emitters.node[i]!]! + work.emitterFlow[i]!;
  const balance = new Float64Array(out.length);
  for (let i = 0; i < out.length; i++) balance[i] = -out[i]!;
  for (let i = 0; i < from.length; i++) {
    balance[from[i]!] = balance[from[i]!]! - work.flowM3s[i]!;
    balance[to[i]!] = balance[to[i]!]! + work.flowM3s[i]!;
  }
  return { out, balance };
}
