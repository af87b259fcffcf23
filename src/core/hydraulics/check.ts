import type { EmitterLaw, LossCurve } from '../catalog';
import type { Network, NetworkLink, NetworkNode, SupplyCurve } from './types';

/** Why a network cannot be solved as it stands: a code with the node or link it concerns. */
export interface NetworkIssue {
  readonly code: string;
  readonly id: string;
}

/**
 * Everything that makes a network unsolvable, in the network's order. Empty: it can be solved.
 * Codes: `hydraulics.not-finite`, `.double-id`, `.unknown-end`, `.same-ends`, `.zero-length`, `.no-bore`, `.bad-friction`,
 * `.bad-loss`, `.bad-emitter`, `.bad-curve`, `.bad-regulator`, `.bad-viscosity`, `.no-source`, `.disconnected`,
 * `.demand-cut-off`.
 */
export function networkIssues(network: Network): readonly NetworkIssue[] {
  const issues: NetworkIssue[] = [];
  const say = (code: string, id: string) => issues.push({ code: `hydraulics.${code}`, id });
  if (!(network.kinematicViscosityM2s > 0 && Number.isFinite(network.kinematicViscosityM2s)))
    say('bad-viscosity', '');
  const indexOf = new Map<string, number>();
  network.nodes.forEach((node, i) => {
    if (indexOf.has(node.id)) say('double-id', node.id);
    indexOf.set(node.id, i);
    for (const code of nodeFaults(node)) say(code, node.id);
  });
  if (!network.nodes.some((node) => node.fixedHeadM !== undefined)) say('no-source', '');
  const linkIds = new Set<string>();
  for (const link of network.links) {
    if (linkIds.has(link.id)) say('double-id', link.id);
    linkIds.add(link.id);
    if (!indexOf.has(link.from) || !indexOf.has(link.to)) say('unknown-end', link.id);
    else if (link.from === link.to) say('same-ends', link.id);
    for (const code of linkFaults(link)) say(code, link.id);
  }
  if (issues.length > 0) return issues;
  const isReached = reached(network, indexOf, true);
  const isServed = reached(network, indexOf, false);
  network.nodes.forEach((node, i) => {
    if (!isReached[i]) say('disconnected', node.id);
    else if (!isServed[i] && (node.demandM3s ?? 0) !== 0) say('demand-cut-off', node.id);
  });
  return issues;
}

function nodeFaults(node: NetworkNode): readonly string[] {
  const faults: string[] = [];
  if (![node.elevationM, node.fixedHeadM ?? 0, node.demandM3s ?? 0].every(Number.isFinite))
    faults.push('not-finite');
  if (node.emitter !== undefined && !isSoundEmitter(node.emitter)) faults.push('bad-emitter');
  return faults;
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
    case 'pipe': {
      const faults: string[] = [];
      if (!Number.isFinite(link.lengthM) || !Number.isFinite(link.insideDiameterM)) faults.push('not-finite');
      else {
        if (link.lengthM <= 0) faults.push('zero-length');
        if (link.insideDiameterM <= 0) faults.push('no-bore');
      }
      const { friction } = link;
      const figure = friction.kind === 'hazen-williams' ? friction.c : friction.absoluteRoughnessM;
      const isSound = friction.kind === 'hazen-williams' ? figure > 0 : figure >= 0;
      if (!(isSound && Number.isFinite(figure))) faults.push('bad-friction');
      if (!(link.lossK >= 0 && Number.isFinite(link.lossK))) faults.push('bad-loss');
      return faults;
    }
    case 'supply':
      return isSoundSupply(link.curve) ? [] : ['bad-curve'];
    case 'device':
      return isSoundLoss(link.loss) ? [] : ['bad-curve'];
    case 'regulator': {
      const figures = [link.setHeadM, link.droop, link.minInletHeadM];
      const isSound = figures.every(Number.isFinite) && link.droop >= 0;
      return isSound && isSoundLoss(link.loss) ? [] : ['bad-regulator'];
    }
  }
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
function reached(
  network: Network,
  indexOf: ReadonlyMap<string, number>,
  isThroughClosed: boolean,
): Uint8Array {
  const neighbours: number[][] = network.nodes.map(() => []);
  for (const link of network.links) {
    if (link.isClosed && !isThroughClosed) continue;
    const a = indexOf.get(link.from)!;
    const b = indexOf.get(link.to)!;
    neighbours[a]!.push(b);
    neighbours[b]!.push(a);
  }
  const isReached = new Uint8Array(network.nodes.length);
  const queue: number[] = [];
  network.nodes.forEach((node, i) => {
    if (node.fixedHeadM === undefined) return;
    isReached[i] = 1;
    queue.push(i);
  });
  for (let at = 0; at < queue.length; at++)
    for (const other of neighbours[queue[at]!]!) {
      if (isReached[other]) continue;
      isReached[other] = 1;
      queue.push(other);
    }
  return isReached;
}
