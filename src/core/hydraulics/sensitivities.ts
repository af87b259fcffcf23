import { assemble } from './assemble';
import { factorAndCarry, solveFactored } from './factor';
import type { Figures } from './figures';
import type { PreparedNetwork } from './prepare';
import { setStartingPoint } from './start';
import type { Topology } from './topology';
import type { Network, Solution } from './types';
import { ACTIVE, layOutWork, type Work } from './work';

/** How the head at one node answers to each figure of the network. */
export interface NodeSensitivity {
  /** m of head per m of head held at each source, by node id. */
  readonly toSourceHead: ReadonlyMap<string, number>;
  /** m of head per m of length, along the network's links; 0 for links that are no pipe. */
  readonly toLengthM: Float64Array;
  /** m of head per unit of K, along the network's links; 0 for links that are no pipe. */
  readonly toLossK: Float64Array;
  /** m of head per m of setting of each regulator, by link id; 0 for one that is not active. */
  readonly toSetHeadM: ReadonlyMap<string, number>;
}

/** Answers about small changes at a settled solution, all from one factorisation. Held states of regulators are kept. */
export interface Sensitivities {
  /** One backward solve gives one node's answer to every figure. */
  readonly ofNode: (nodeId: string) => NodeSensitivity;
  /** One forward solve gives every node's answer to the head of one source, along the network's nodes. */
  readonly toSourceHead: (sourceId: string) => Float64Array;
  /** Every node's answer to the length of one pipe. */
  readonly toLengthM: (linkId: string) => Float64Array;
  /** Every node's answer to the local loss of one pipe. */
  readonly toLossK: (linkId: string) => Float64Array;
}

interface Held {
  readonly prepared: PreparedNetwork;
  readonly topology: Topology;
  readonly figures: Figures;
  readonly work: Work;
  /** Active regulators: solver positions of their ends, and their conductance. */
  readonly active: readonly {
    readonly link: number;
    readonly inlet: number;
    readonly outlet: number;
    readonly c: number;
  }[];
}

/**
 * First-order answers of all heads at a settled solution: implicit differentiation of the mass balances, forward or
 * adjoint, with the symmetric factor; active regulators, whose inlet follows their outlet and not the reverse, are a
 * correction of rank one each.
 *
 * Fails: throws where the solution is not a settled one of the prepared network, a bug of the caller; unknown ids throw.
 */
export function sensitivitiesAt(prepared: PreparedNetwork, solution: Solution): Sensitivities {
  const { topology, figures, network } = prepared;
  if (topology === null || figures === null || solution.status !== 'settled')
    throw new Error('sensitivitiesAt needs a settled solution');
  const held = holdFactor(prepared, topology, figures, solution);
  const byNode = (x: Float64Array) => Float64Array.from(topology.positionOfNode, (at) => x[at]!);
  return {
    toSourceHead: (sourceId) => {
      const source = topology.positionOfNode[nodeIndex(network, sourceId)]!;
      const x = solveForward(held, sourcePull(held, source));
      x[source] = 1;
      return byNode(x);
    },
    toLengthM: (linkId) => {
      const i = pipeIndex(network, linkId);
      return byNode(solveForward(held, lossPush(held, i, lossByLength(held, i))));
    },
    toLossK: (linkId) => {
      const i = pipeIndex(network, linkId);
      return byNode(solveForward(held, lossPush(held, i, lossByK(held, i))));
    },
    ofNode: (nodeId) => answerOfNode(held, topology.positionOfNode[nodeIndex(network, nodeId)]!),
  };
}

function nodeIndex(network: Network, id: string): number {
  const i = network.nodes.findIndex((node) => node.id === id);
  if (i < 0) throw new Error(`no node ${id}`);
  return i;
}

function pipeIndex(network: Network, id: string): number {
  const i = network.links.findIndex((link) => link.id === id);
  if (network.links[i]?.kind !== 'pipe') throw new Error(`no pipe ${id}`);
  return i;
}

/** Head a pipe loses more for one metre more of it. */
function lossByLength({ prepared, topology, figures, work }: Held, i: number): number {
  const link = prepared.network.links[i]!;
  if (link.kind !== 'pipe') return 0;
  const at = topology.numberOfLink[i]!;
  const q = work.flowM3s[at]!;
  return (work.lossM[at]! - figures.pipes.local[at]! * q * Math.abs(q)) / link.lengthM;
}

/** Head a pipe loses more for one K more. */
function lossByK({ prepared, topology, work }: Held, i: number): number {
  const link = prepared.network.links[i]!;
  if (link.kind !== 'pipe') return 0;
  const q = work.flowM3s[topology.numberOfLink[i]!]!;
  return (prepared.constants.localLossCoefficient * q * Math.abs(q)) / link.insideDiameterM ** 4;
}

/** More loss in a link: less flow by its conductance, left at one end and missing at the other. */
function lossPush(held: Held, i: number, lossStepM: number): Float64Array {
  const { from, to, numberOfLink, nodeCount } = held.topology;
  const at = numberOfLink[i]!;
  const b = new Float64Array(nodeCount);
  const less = conductanceOf(held, at) * lossStepM;
  b[from[at]!] = less;
  b[to[at]!] = -less;
  return b;
}

/** One backward solve: what each junction's imbalance would do to the node, then how each figure moves the imbalances. */
function answerOfNode(held: Held, node: number): NodeSensitivity {
  const { topology, prepared } = held;
  const { nodes, links } = prepared.network;
  const { from, to, numberOfLink, positionOfNode } = topology;
  const weight = new Float64Array(topology.nodeCount);
  if (node < topology.unknownCount) {
    weight[node] = 1;
    solveBackward(held, weight);
  }
  const toLengthM = new Float64Array(links.length);
  const toLossK = new Float64Array(links.length);
  const toSetHeadM = new Map<string, number>();
  links.forEach((link, i) => {
    const at = numberOfLink[i]!;
    const pull = conductanceOf(held, at) * (weight[from[at]!]! - weight[to[at]!]!);
    toLengthM[i] = pull * lossByLength(held, i);
    toLossK[i] = pull * lossByK(held, i);
    if (link.kind !== 'regulator') return;
    const active = held.active.find((regulator) => regulator.link === at);
    const answer = active === undefined ? 0 : active.c * (weight[active.outlet]! - weight[active.inlet]!);
    toSetHeadM.set(link.id, answer);
  });
  const toSourceHead = new Map<string, number>();
  nodes.forEach((source, i) => {
    if (source.fixedHeadM === undefined) return;
    const at = positionOfNode[i]!;
    toSourceHead.set(source.id, at === node ? 1 : dot(weight, sourcePull(held, at)));
  });
  return { toSourceHead, toLengthM, toLossK, toSetHeadM };
}

/** Assembles and factors at the solution, in room of its own, so that a later solve does not disturb it. */
function holdFactor(
  prepared: PreparedNetwork,
  topology: Topology,
  figures: Figures,
  solution: Solution,
): Held {
  const work = layOutWork(
    { work: null },
    topology.nodeCount,
    topology.from.length,
    topology.pattern.row.length + 1,
    figures.emitters.count,
  );
  setStartingPoint(topology, figures, work, solution);
  assemble(topology, figures, work);
  factorAndCarry(topology.pattern, work.diagonal, work.lower, work.step);
  const active = figures.regulators
    .filter(({ link }) => work.state[link] === ACTIVE)
    .map(({ link }) => ({
      link,
      inlet: topology.from[link]!,
      outlet: topology.to[link]!,
      c: work.gradient[link]!,
    }));
  return { prepared, topology, figures, work, active };
}

/** After assembly `gradient` holds conductances; a link that is shut or holds its outlet passes no change of head. */
function conductanceOf({ work }: Held, link: number): number {
  return work.state[link] === 0 ? work.gradient[link]! : 0;
}

function sourcePull(held: Held, source: number): Float64Array {
  const { topology } = held;
  const b = new Float64Array(topology.nodeCount);
  const { first, incident } = topology.incidence;
  for (let p = first[source]!; p < first[source + 1]!; p++) {
    const link = incident[p]!;
    const other = topology.from[link] === source ? topology.to[link]! : topology.from[link]!;
    b[other] = b[other]! + conductanceOf(held, link);
  }
  return b;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** Heads that answer to a right-hand side, in place: the symmetric solve, then the pull of each active regulator's outlet on its inlet. */
function solveForward(held: Held, b: Float64Array): Float64Array {
  return solveCorrected(
    held,
    b,
    (regulator) => regulator.inlet,
    (regulator) => regulator.outlet,
  );
}

/** The same with the system transposed. */
function solveBackward(held: Held, b: Float64Array): Float64Array {
  return solveCorrected(
    held,
    b,
    (regulator) => regulator.outlet,
    (regulator) => regulator.inlet,
  );
}

type Pick = (regulator: Held['active'][number]) => number;

function solveCorrected(held: Held, b: Float64Array, pushed: Pick, read: Pick): Float64Array {
  const { topology, work, active } = held;
  const { unknownCount, pattern } = topology;
  const solve = (x: Float64Array) => {
    x.fill(0, unknownCount);
    solveFactored(pattern, work.diagonal, work.lower, x);
    return x;
  };
  solve(b);
  if (active.length === 0) return b;
  const responses = active.map((regulator) => {
    const x = new Float64Array(topology.nodeCount);
    if (pushed(regulator) < unknownCount) x[pushed(regulator)] = regulator.c;
    return solve(x);
  });
  const matrix = active.map((row, i) => active.map((_, j) => (i === j ? 1 : 0) - responses[j]![read(row)]!));
  const amounts = solveDense(
    matrix,
    active.map((regulator) => b[read(regulator)]!),
  );
  for (let r = 0; r < active.length; r++)
    for (let i = 0; i < unknownCount; i++) b[i] = b[i]! + amounts[r]! * responses[r]![i]!;
  return b;
}

/** Gaussian elimination with row exchange, for as many unknowns as a zone has regulators. */
function solveDense(matrix: number[][], b: number[]): number[] {
  const size = b.length;
  for (let k = 0; k < size; k++) {
    let best = k;
    for (let i = k + 1; i < size; i++) if (Math.abs(matrix[i]![k]!) > Math.abs(matrix[best]![k]!)) best = i;
    [matrix[k], matrix[best]] = [matrix[best]!, matrix[k]!];
    [b[k], b[best]] = [b[best]!, b[k]!];
    for (let i = k + 1; i < size; i++) {
      const share = matrix[i]![k]! / matrix[k]![k]!;
      for (let j = k; j < size; j++) matrix[i]![j] = matrix[i]![j]! - share * matrix[k]![j]!;
      b[i] = b[i]! - share * b[k]!;
    }
  }
  for (let k = size - 1; k >= 0; k--) {
    for (let j = k + 1; j < size; j++) b[k] = b[k]! - matrix[k]![j]! * b[j]!;
    b[k] = b[k]! / matrix[k]![k]!;
  }
  return b;
}
