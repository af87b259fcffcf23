import { stillHeadM } from './curves';
import { emitterRange } from './emitters';
import { prepareNetwork, withFigures } from './prepare';
import { solveNetwork, solvePrepared } from './solve';
import type { Network, NetworkLink, Solution, SupplyCurve } from './types';

/** A network with some of its links replaced, by id; ends and kinds stay. */
export function withLinks(network: Network, changed: ReadonlyMap<string, NetworkLink>): Network {
  return { ...network, links: network.links.map((link) => changed.get(link.id) ?? link) };
}

/**
 * The same network on another supply: the curve of its supply link, and the head held behind it (elevation plus the
 * curve's head at no flow). Fails: throws where the network has no such supply link, a bug of the caller.
 */
export function withSupply(network: Network, linkId: string, curve: SupplyCurve): Network {
  const link = network.links.find((candidate) => candidate.id === linkId);
  if (link?.kind !== 'supply') throw new Error(`no supply link ${linkId}`);
  const nodes = network.nodes.map((node) =>
    node.id === link.from ? { ...node, fixedHeadM: node.elevationM + stillHeadM(curve) } : node,
  );
  return { ...withLinks(network, new Map([[linkId, { ...link, curve }]])), nodes };
}

/** A supply curve as it stands when the mains are higher or lower than when it was measured: every head moved alike. */
export function shiftSupply(curve: SupplyCurve, byM: number): SupplyCurve {
  switch (curve.kind) {
    case 'two-point':
      return {
        ...curve,
        staticHeadM: curve.staticHeadM + byM,
        residualHeadM: curve.residualHeadM + byM,
      };
    case 'constant':
      return { ...curve, headM: curve.headM + byM };
    case 'points':
      return { ...curve, points: curve.points.map((p) => ({ ...p, headM: p.headM + byM })) };
  }
}

/** The network with every source's held head moved by so much: the year's lowest or highest pressure, solved again. */
export function withSourceHeadsMoved(network: Network, byM: number): Network {
  const nodes = network.nodes.map((node) =>
    node.fixedHeadM === undefined ? node : { ...node, fixedHeadM: node.fixedHeadM + byM },
  );
  return { ...network, nodes };
}

/**
 * Heads with nothing flowing, the most each part must bear: emitters and demands taken away. Behind a regulator the
 * setting; check a regulator that fails open by replacing it first.
 */
export function solveAtRest(network: Network): Solution {
  const nodes = network.nodes.map(({ emitter: _emitter, demandM3s: _demand, ...node }) => node);
  return solveNetwork({ ...network, nodes });
}

/**
 * Head at a held node (its total head) that just brings every emitter to the least head of its range, everything else
 * as it is; found by bisection on solved networks to 1 mm.
 *
 * @returns null where no head up to `highestM` does it (a regulator set too low, a run too long)
 */
export function requiredSourceHeadM(network: Network, sourceId: string, highestM = 200): number | null {
  const source = network.nodes.find((node) => node.id === sourceId);
  if (source?.fixedHeadM === undefined) throw new Error(`no held head at ${sourceId}`);
  const prepared = prepareNetwork(network);
  if (prepared.topology === null) return null;
  let warm: Solution | undefined;
  const isServed = (headM: number): boolean => {
    const nodes = network.nodes.map((node) => (node === source ? { ...node, fixedHeadM: headM } : node));
    const solution = solvePrepared(withFigures(prepared, { ...network, nodes }), warm);
    warm = solution;
    return (
      solution.status === 'settled' &&
      nodes.every(
        (node, i) =>
          node.emitter === undefined ||
          emitterRange(node.emitter, solution.headM[i]! - node.elevationM) !== 'below',
      )
    );
  };
  let high = source.elevationM + highestM;
  if (!isServed(high)) return null;
  let low = source.elevationM;
  while (high - low > 1e-3) {
    const middle = (high + low) / 2;
    if (isServed(middle)) high = middle;
    else low = middle;
  }
  return high;
}
