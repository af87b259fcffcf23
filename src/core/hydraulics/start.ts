import { evaluateEmitters } from './emitters';
import type { Figures } from './figures';
import { STATE_NAMES } from './report';
import type { Topology } from './topology';
import { growTree, type Tree, UNREACHED } from './tree';
import type { Solution } from './types';
import { ACTIVE, CLOSED, OPEN, type Work } from './work';

/**
 * Where Newton begins. Cold: every junction at the head of the source its tree hangs on (or the setting of the regulator
 * on the way), every emitter giving what it would there, flows carried back to the sources along the tree. Warm: a
 * settled solution of the same shape.
 */
export function setStartingPoint(
  topology: Topology,
  figures: Figures,
  work: Work,
  warm: Solution | undefined,
): void {
  const { emitters, isClosed } = figures;
  work.state.fill(OPEN);
  work.isShut.fill(0);
  const tree = treeOf(topology, figures);
  const isWarm =
    warm?.status === 'settled' &&
    warm.headM.length === topology.nodeCount &&
    warm.flowM3s.length === topology.from.length;
  if (isWarm) setFromSolution(topology, figures, work, warm);
  else setHeads(topology, figures, work, tree);
  for (let i = 0; i < isClosed.length; i++) if (isClosed[i]) close(work, i);
  if (tree.count < topology.nodeCount) setDry(topology, figures, work, tree);
  evaluateEmitters(emitters, work.headM, work.emitterFlow, work.emitterSlope);
  if (!isWarm) setTreeFlows(topology, figures, work, tree);
}

function close(work: Work, link: number): void {
  work.isShut[link] = 1;
  work.state[link] = CLOSED;
  work.flowM3s[link] = 0;
}

/** What only shut links lead to stands dry: no pressure, no flow. */
function setDry(topology: Topology, figures: Figures, work: Work, tree: Tree): void {
  const { from, to, unknownCount } = topology;
  for (let i = 0; i < unknownCount; i++)
    if (tree.byLink[i] === UNREACHED) work.headM[i] = figures.elevationM[i]!;
  for (let i = 0; i < from.length; i++)
    if (tree.byLink[from[i]!] === UNREACHED || tree.byLink[to[i]!] === UNREACHED) close(work, i);
}

/** The tree of the whole network, or, with links shut, of what is left of it. */
function treeOf(topology: Topology, figures: Figures): Tree {
  return figures.isClosed.includes(1) ? growTree(topology, figures.isClosed) : topology.tree;
}

function setFromSolution(topology: Topology, figures: Figures, work: Work, warm: Solution): void {
  const { positionOfNode, numberOfLink, nodeCount, unknownCount } = topology;
  work.headM.set(figures.heldHeadM);
  for (let i = 0; i < nodeCount; i++)
    if (positionOfNode[i]! < unknownCount) work.headM[positionOfNode[i]!] = warm.headM[i]!;
  for (let i = 0; i < numberOfLink.length; i++) work.flowM3s[numberOfLink[i]!] = warm.flowM3s[i]!;
  for (const link of [...figures.regulators.map(({ link }) => link), ...figures.oneWay])
    work.state[link] = STATE_NAMES.indexOf(warm.state[numberOfLink.indexOf(link)]!);
}

function setHeads(topology: Topology, figures: Figures, work: Work, tree: Tree): void {
  const { from, to } = topology;
  const { headM } = work;
  headM.set(figures.heldHeadM);
  const setting = new Map(figures.regulators.map((r) => [r.link, r.setTotalHeadM]));
  const hasSettings = setting.size > 0;
  for (let at = 0; at < tree.count; at++) {
    const here = tree.order[at]!;
    const link = tree.byLink[here]!;
    if (link < 0) continue;
    const above = headM[to[link] === here ? from[link]! : to[link]!]!;
    headM[here] = hasSettings ? Math.min(above, setting.get(link) ?? above) : above;
  }
  for (const { link, setTotalHeadM } of figures.regulators)
    work.state[link] = headM[from[link]!]! > setTotalHeadM ? ACTIVE : OPEN;
}

function setTreeFlows(topology: Topology, figures: Figures, work: Work, tree: Tree): void {
  const { from, to } = topology;
  const { emitters } = figures;
  const need = work.step;
  need.set(figures.demandM3s);
  for (let i = 0; i < emitters.count; i++)
    need[emitters.node[i]!] = need[emitters.node[i]!]! + work.emitterFlow[i]!;
  work.flowM3s.fill(0);
  for (let at = tree.count - 1; at >= 0; at--) {
    const here = tree.order[at]!;
    const link = tree.byLink[here]!;
    if (link < 0) continue;
    const isOutward = to[link] === here;
    const parent = isOutward ? from[link]! : to[link]!;
    work.flowM3s[link] = isOutward ? need[here]! : -need[here]!;
    need[parent] = need[parent]! + need[here]!;
  }
}
