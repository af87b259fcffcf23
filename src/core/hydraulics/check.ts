import type { EmitterLaw, LossCurve } from '../catalog';
import { IdTable } from './idTable';
import { incidence } from './incidence';
import type { Network, NetworkLink, NetworkNode, SupplyCurve } from './types';

/** Why a network cannot be solved as it stands: a code with the node or link it concerns. */
export interface NetworkIssue {
  readonly code: string;
  readonly id: string;
}

/** What is wrong with a network, and the ends of its links as places in its list of nodes (-1: unknown). */
export interface Inspection {
  readonly issues: readonly NetworkIssue[];
  readonly from: Int32Array;
  readonly to: Int32Array;
}

/**
 * Everything that makes a network unsolvable, in the network's order. Empty: it can be solved.
 * Codes: `hydraulics.not-finite`, `.double-id`, `.unknown-end`, `.same-ends`, `.zero-length`, `.no-bore`, `.bad-friction`,
 * `.bad-loss`, `.bad-emitter`, `.bad-curve`, `.bad-regulator`, `.bad-viscosity`, `.no-source`, `.disconnected`,
 * `.demand-cut-off`.
 */
export function networkIssues(network: Network): readonly NetworkIssue[] {
  return inspectNetwork(network).issues;
}

/** `networkIssues` with the ends of the links as found on the way. */
export function inspectNetwork(network: Network): Inspection {
  const { nodes, links } = network;
  const issues: NetworkIssue[] = [];
  const say = (code: string, id: string) => issues.push({ code: `hydraulics.${code}`, id });
  const nodeTable = new IdTable(nodes);
  for (let i = 0; i < nodes.length; i++) if (!nodeTable.add(i)) say('double-id', nodes[i]!.id);
  const linkTable = new IdTable(links);
  const from = new Int32Array(links.length);
  const to = new Int32Array(links.length);
  let last = -1;
  /** Tubing is listed along its run, so an end is mostly the node just met or the one after it. */
  const find = (id: string): number => {
    if (last >= 0 && nodes[last]!.id === id) return last;
    if (nodes[last + 1]?.id === id) return last + 1;
    return nodeTable.find(id);
  };
  for (let i = 0; i < links.length; i++) {
    const link = links[i]!;
    if (!linkTable.add(i)) say('double-id', link.id);
    const a = find(link.from);
    last = a;
    const b = find(link.to);
    from[i] = a;
    to[i] = b;
    last = b;
    if (a < 0 || b < 0) say('unknown-end', link.id);
    else if (a === b) say('same-ends', link.id);
  }
  issues.push(...figureIssues(network, null));
  if (issues.length === 0) issues.push(...reachIssues(network, from, to));
  return { issues, from, to };
}

/** Faults of single figures; those of nodes and links that are the same objects as in `sound` are known to be none. */
export function figureIssues(network: Network, sound: Network | null): readonly NetworkIssue[] {
  const { nodes, links, kinematicViscosityM2s } = network;
  const issues: NetworkIssue[] = [];
  if (!(kinematicViscosityM2s > 0 && Number.isFinite(kinematicViscosityM2s)))
    issues.push({ code: 'hydraulics.bad-viscosity', id: '' });
  for (let i = 0; i < nodes.length; i++)
    if (nodes[i] !== sound?.nodes[i]) addFaults(issues, nodes[i]!.id, nodeFaults(nodes[i]!));
  for (let i = 0; i < links.length; i++)
    if (links[i] !== sound?.links[i]) addFaults(issues, links[i]!.id, linkFaults(links[i]!));
  return issues;
}

function addFaults(issues: NetworkIssue[], id: string, codes: readonly string[]): void {
  for (const code of codes) issues.push({ code: `hydraulics.${code}`, id });
}

/** Nodes that no source can reach, and fixed demands that only closed links lead to. */
export function reachIssues(network: Network, from: Int32Array, to: Int32Array): readonly NetworkIssue[] {
  const { nodes, links } = network;
  const issues: NetworkIssue[] = [];
  if (!nodes.some((node) => node.fixedHeadM !== undefined)) return [{ code: 'hydraulics.no-source', id: '' }];
  const isReached = reached(network, from, to, true);
  const isServed = links.some((link) => link.isClosed) ? reached(network, from, to, false) : isReached;
  for (let i = 0; i < nodes.length; i++) {
    const node = nodes[i]!;
    if (!isReached[i]) issues.push({ code: 'hydraulics.disconnected', id: node.id });
    else if (!isServed[i] && (node.demandM3s ?? 0) !== 0)
      issues.push({ code: 'hydraulics.demand-cut-off', id: node.id });
  }
  return issues;
}

const SOUND: readonly string[] = [];

function nodeFaults(node: NetworkNode): readonly string[] {
  const { elevationM, fixedHeadM, demandM3s, emitter } = node;
  const areFinite = Number.isFinite(elevationM + (fixedHeadM ?? 0) + (demandM3s ?? 0));
  const isSound = emitter === undefined || isSoundEmitter(emitter);
  if (areFinite && isSound) return SOUND;
  return [...(areFinite ? [] : ['not-finite']), ...(isSound ? [] : ['bad-emitter'])];
}

/** Whether an emitter law can be computed with: finite, rising, thresholds above the opening head. */
export function isSoundEmitter(law: EmitterLaw): boolean {
  const openM = law.openHeadM ?? 0;
  if (!(law.nominalFlowM3s >= 0 && Number.isFinite(law.nominalFlowM3s) && Number.isFinite(openM)))
    return false;
  if (law.kind === 'power')
    return law.nominalHeadM > openM && Number.isFinite(law.nominalHeadM) && isExponent(law.exponent);
  return (
    law.thresholdHeadM > openM &&
    Number.isFinite(law.thresholdHeadM) &&
    isExponent(law.belowExponent) &&
    law.plateauSlopePerM >= 0 &&
    Number.isFinite(law.plateauSlopePerM)
  );
}

const isExponent = (x: number): boolean => x >= 0 && x <= 2;

function linkFaults(link: NetworkLink): readonly string[] {
  switch (link.kind) {
    case 'pipe':
      return pipeFaults(link);
    case 'supply':
      return isSoundSupply(link.curve) ? SOUND : ['bad-curve'];
    case 'device':
      return isSoundLoss(link.loss) ? SOUND : ['bad-curve'];
    case 'regulator': {
      const figures = [link.setHeadM, link.droop, link.minInletHeadM];
      const isSound = figures.every(Number.isFinite) && link.droop >= 0;
      return isSound && isSoundLoss(link.loss) ? SOUND : ['bad-regulator'];
    }
  }
}

function pipeFaults(pipe: Extract<NetworkLink, { kind: 'pipe' }>): readonly string[] {
  const { lengthM, insideDiameterM, friction, lossK } = pipe;
  const isHazen = friction.kind === 'hazen-williams';
  const figure = isHazen ? friction.c : friction.absoluteRoughnessM;
  const isFrictionSound = Number.isFinite(figure) && (isHazen ? figure > 0 : figure >= 0);
  const isLossSound = lossK >= 0 && Number.isFinite(lossK);
  const areFinite = Number.isFinite(lengthM) && Number.isFinite(insideDiameterM);
  if (isFrictionSound && isLossSound && areFinite && lengthM > 0 && insideDiameterM > 0) return SOUND;
  const faults: string[] = [];
  if (!areFinite) faults.push('not-finite');
  if (lengthM <= 0) faults.push('zero-length');
  if (insideDiameterM <= 0) faults.push('no-bore');
  if (!isFrictionSound) faults.push('bad-friction');
  if (!isLossSound) faults.push('bad-loss');
  return faults;
}

/** Whether a loss never falls as flow rises, with flows ascending and figures finite. */
export function isSoundLoss(curve: LossCurve): boolean {
  if (curve.kind === 'quadratic')
    return curve.kSI >= 0 && curve.offsetM >= 0 && Number.isFinite(curve.kSI + curve.offsetM);
  return arePointsSound(curve.points.map((p) => ({ flowM3s: p.flowM3s, lossM: p.headM })));
}

/** Whether a supply never rises as flow rises. */
export function isSoundSupply(curve: SupplyCurve): boolean {
  switch (curve.kind) {
    case 'constant':
      return Number.isFinite(curve.headM);
    case 'two-point':
      return (
        Number.isFinite(curve.staticHeadM) &&
        curve.residualHeadM <= curve.staticHeadM &&
        Number.isFinite(curve.residualHeadM) &&
        curve.testFlowM3s > 0 &&
        Number.isFinite(curve.testFlowM3s) &&
        curve.exponent >= 1 &&
        curve.exponent <= 3
      );
    case 'points': {
      const [first] = curve.points;
      if (first === undefined) return false;
      return arePointsSound(
        curve.points.map((p) => ({ flowM3s: p.flowM3s, lossM: first.headM - p.headM })),
        true,
      );
    }
  }
}

function arePointsSound(
  points: readonly { readonly flowM3s: number; readonly lossM: number }[],
  isSupply = false,
): boolean {
  const [first] = points;
  if (first === undefined || !points.every((p) => Number.isFinite(p.flowM3s) && Number.isFinite(p.lossM)))
    return false;
  if (points.length === 1) return isSupply ? first.flowM3s >= 0 : first.flowM3s > 0 && first.lossM >= 0;
  if (first.flowM3s < 0 || first.lossM < 0) return false;
  return points.every((point, i) => {
    const before = points[i - 1];
    return before === undefined || (point.flowM3s > before.flowM3s && point.lossM >= before.lossM);
  });
}

/** Which nodes water can reach from a held head, along every link or along open ones only. */
function reached(network: Network, from: Int32Array, to: Int32Array, isThroughClosed: boolean): Uint8Array {
  const { nodes, links } = network;
  const { first, incident } = incidence(nodes.length, from, to);
  const isReached = new Uint8Array(nodes.length);
  const queue = new Int32Array(nodes.length);
  let count = 0;
  for (let i = 0; i < nodes.length; i++) {
    if (nodes[i]!.fixedHeadM === undefined) continue;
    isReached[i] = 1;
    queue[count++] = i;
  }
  for (let at = 0; at < count; at++) {
    const here = queue[at]!;
    for (let p = first[here]!; p < first[here + 1]!; p++) {
      const link = incident[p]!;
      const other = from[link] === here ? to[link]! : from[link]!;
      if (isReached[other] || (links[link]!.isClosed && !isThroughClosed)) continue;
      isReached[other] = 1;
      queue[count++] = other;
    }
  }
  return isReached;
}
