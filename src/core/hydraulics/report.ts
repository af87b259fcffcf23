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

/** Puts the result in the network's order and checks the balance of every junction afresh. */
export function report(
  prepared: PreparedNetwork,
  topology: Topology,
  figures: Figures,
  work: Work,
  iterations: number,
  hasSettled: boolean,
): Solution {
  const { nodes, links } = prepared.network;
  const { positionOfNode, numberOfLink, fromNode, toNode } = topology;
  const { pipes } = figures;
  const { out, balance } = balances(topology, figures, work);
  const headM = new Float64Array(nodes.length);
  const outflowM3s = new Float64Array(nodes.length);
  let worst = -1;
  let worstResidualM3s = 0;
  for (let i = 0; i < nodes.length; i++) {
    const at = positionOfNode[i]!;
    const isHeld = at >= topology.unknownCount;
    headM[i] = isHeld ? figures.heldHeadM[at]! : work.headM[at]!;
    outflowM3s[i] = isHeld ? balance[at]! : out[at]!;
    const residual = isHeld ? 0 : Math.abs(balance[at]!);
    if (residual > worstResidualM3s || worst < 0) {
      worst = i;
      worstResidualM3s = residual;
    }
  }
  const flowM3s = new Float64Array(links.length);
  const velocityMs = new Float64Array(links.length);
  const headlossM = new Float64Array(links.length);
  const state: LinkState[] = new Array(links.length).fill('open');
  let isEveryFigureFinite = headM.every(Number.isFinite);
  for (let i = 0; i < links.length; i++) {
    const at = numberOfLink[i]!;
    const flow = work.flowM3s[at]!;
    flowM3s[i] = flow;
    headlossM[i] = headM[fromNode[i]!]! - headM[toNode[i]!]!;
    if (at < pipes.count) velocityMs[i] = Math.abs(flow) / pipes.areaM2[at]!;
    if (work.state[at] !== OPEN && (links[i]!.kind === 'regulator' || figures.isClosed[at]))
      state[i] = STATE_NAMES[work.state[at]!]!;
    if (!Number.isFinite(flow)) isEveryFigureFinite = false;
  }
  const hasOutlet = figures.emitters.count > 0 || figures.demandM3s.some((q) => q !== 0);
  return {
    status: hasSettled && isEveryFigureFinite ? 'settled' : 'unsettled',
    iterations,
    worstResidualM3s,
    worstNodeId: worst < 0 ? null : nodes[worst]!.id,
    headM,
    outflowM3s,
    flowM3s,
    velocityMs,
    headlossM,
    state,
    issues: hasOutlet ? [] : [{ code: 'hydraulics.no-outflow', id: '' }],
  };
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
