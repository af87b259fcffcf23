import { describe, expect, it } from 'vitest';
import {
  type Network,
  type NetworkLink,
  prepareNetwork,
  sensitivitiesAt,
  solveNetwork,
  solvePrepared,
  withLinks,
} from '../../../src/core/hydraulics';
import { compensatingDripper, hazen, orificeDripper, smoothTubing, testNetwork } from './ladders';

const spec = {
  loops: [
    { emitters: 30, spacingM: 0.3, riseM: 1, isClosed: true },
    { emitters: 20, spacingM: 0.3, riseM: -1, isClosed: false },
  ],
  sourceHeadM: 14,
  trunkLengthM: 12,
  emitter: orificeDripper,
  tubing: smoothTubing,
  trunk: hazen(150),
  emitterLossK: 0.4,
};

/** The same zone behind a regulator that is active, with a droop. */
function regulated(): Network {
  const network = testNetwork({ ...spec, emitter: { ...compensatingDripper, plateauSlopePerM: 0.01 } });
  const [first, ...rest] = network.links;
  const links: NetworkLink[] = [
    { ...(first as Extract<NetworkLink, { kind: 'pipe' }>), to: 'inlet', insideDiameterM: 0.01 },
    {
      kind: 'regulator',
      id: 'regulator',
      from: 'inlet',
      to: 'tee-0',
      setHeadM: 11,
      droop: 3000,
      loss: { kind: 'quadratic', kSI: 1e5, offsetM: 0 },
      minInletHeadM: 12,
    },
    ...rest,
  ];
  const nodes = network.nodes.map((node) => (node.id === 'source' ? { ...node, fixedHeadM: 30 } : node));
  return { ...network, nodes: [...nodes, { id: 'inlet', elevationM: 0 }], links };
}

/** Central difference of every head by one figure of the network. */
function difference(network: Network, change: (by: number) => Network, step: number): Float64Array {
  const up = solveNetwork(change(step)).headM;
  const down = solveNetwork(change(-step)).headM;
  return network.nodes.map((_, i) => (up[i]! - down[i]!) / (2 * step)) as unknown as Float64Array;
}

function expectSame(found: ArrayLike<number>, wanted: ArrayLike<number>) {
  let scale = 0;
  for (let i = 0; i < wanted.length; i++) scale = Math.max(scale, Math.abs(wanted[i]!));
  expect(scale).toBeGreaterThan(0);
  for (let i = 0; i < wanted.length; i++)
    expect(Math.abs(found[i]! - wanted[i]!)).toBeLessThan(1e-4 * scale + 1e-9);
}

for (const [words, network] of [
  ['a looped zone', testNetwork(spec)],
  ['a zone behind an active regulator', regulated()],
] as const)
  describe(`sensitivities of ${words}`, () => {
    const prepared = prepareNetwork(network);
    const solution = solvePrepared(prepared);
    const answers = sensitivitiesAt(prepared, solution);
    const pipes = network.links.filter((link) => link.kind === 'pipe');
    const chosen = [pipes[0]!, pipes[3]!, pipes[25]!, pipes[pipes.length - 1]!];

    it('to the head of the source are those of two solves apart', () => {
      const moved = (by: number): Network => ({
        ...network,
        nodes: network.nodes.map((node) =>
          node.id === 'source' ? { ...node, fixedHeadM: node.fixedHeadM! + by } : node,
        ),
      });
      expectSame(answers.toSourceHead('source'), difference(network, moved, 0.01));
    });

    it('to the length of a pipe are those of two solves apart', () => {
      for (const pipe of chosen) {
        const longer = (by: number) =>
          withLinks(network, new Map([[pipe.id, { ...pipe, lengthM: pipe.lengthM + by }]]));
        expectSame(answers.toLengthM(pipe.id), difference(network, longer, 0.01 * pipe.lengthM));
      }
    });

    it('to the local loss of a pipe are those of two solves apart', () => {
      for (const pipe of chosen) {
        const lossier = (by: number) =>
          withLinks(network, new Map([[pipe.id, { ...pipe, lossK: pipe.lossK + 1 + by }]]));
        const raised = prepareNetwork(lossier(0));
        const there = sensitivitiesAt(raised, solvePrepared(raised));
        expectSame(there.toLossK(pipe.id), difference(network, lossier, 0.05));
      }
    });

    it('read backward from one node agree with those read forward from each figure', () => {
      const far = network.nodes.findIndex((node) => node.id === 'e-0-15');
      const node = answers.ofNode('e-0-15');
      expect(node.toSourceHead.get('source')).toBeCloseTo(answers.toSourceHead('source')[far]!, 9);
      network.links.forEach((link, i) => {
        if (link.kind !== 'pipe') return;
        expect(Math.abs(node.toLengthM[i]! - answers.toLengthM(link.id)[far]!)).toBeLessThan(1e-9);
        expect(Math.abs(node.toLossK[i]! - answers.toLossK(link.id)[far]!)).toBeLessThan(1e-9);
      });
    });
  });

describe('sensitivity to a regulator', () => {
  it('behind an active one, pressure follows the setting and not the source', () => {
    const network = regulated();
    const prepared = prepareNetwork(network);
    const solution = solvePrepared(prepared);
    expect(solution.state[1]).toBe('active');
    const node = sensitivitiesAt(prepared, solution).ofNode('e-0-15');
    expect(Math.abs(node.toSourceHead.get('source')!)).toBeLessThan(1e-9);
    const set = (by: number): Network =>
      withLinks(
        network,
        new Map([
          [
            'regulator',
            { ...(network.links[1] as Extract<NetworkLink, { kind: 'regulator' }>), setHeadM: 11 + by },
          ],
        ]),
      );
    const at = network.nodes.findIndex(({ id }) => id === 'e-0-15');
    expect(node.toSetHeadM.get('regulator')).toBeCloseTo(difference(network, set, 0.01)[at]!, 4);
  });

  it('is refused for a solution that did not settle', () => {
    const prepared = prepareNetwork(regulated());
    expect(() => sensitivitiesAt(prepared, { ...solvePrepared(prepared), status: 'unsettled' })).toThrow();
  });
});
