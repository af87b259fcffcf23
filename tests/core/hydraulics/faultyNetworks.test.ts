import { describe, expect, it } from 'vitest';
import { type Network, type NetworkLink, type NetworkNode, solveNetwork } from '../../../src/core/hydraulics';
import { sentenceOf } from '../../../src/core/words';
import { orificeDripper, smoothTubing } from './ladders';

const pipe: Extract<NetworkLink, { kind: 'pipe' }> = {
  kind: 'pipe',
  id: 'pipe',
  from: 'source',
  to: 'end',
  lengthM: 10,
  insideDiameterM: 0.0145,
  friction: smoothTubing,
  lossK: 0,
};
const source: NetworkNode = { id: 'source', elevationM: 0, fixedHeadM: 20 };
const end: NetworkNode = { id: 'end', elevationM: 0, emitter: orificeDripper };
const sound: Network = { nodes: [source, end], links: [pipe], kinematicViscosityM2s: 1e-6 };

const withPipe = (changed: Partial<typeof pipe>): Network => ({ ...sound, links: [{ ...pipe, ...changed }] });

describe('a network that cannot be solved is refused by name', () => {
  const cases: readonly (readonly [string, Network, string, string])[] = [
    ['has no source', { ...sound, nodes: [{ id: 'source', elevationM: 0 }, end] }, 'no-source', ''],
    ['has nothing in it', { ...sound, nodes: [], links: [] }, 'no-source', ''],
    [
      'has a part joined to nothing',
      { ...sound, nodes: [source, end, { id: 'island', elevationM: 0 }] },
      'disconnected',
      'island',
    ],
    ['has a pipe of no length', withPipe({ lengthM: 0 }), 'zero-length', 'pipe'],
    ['has a pipe of negative length', withPipe({ lengthM: -2 }), 'zero-length', 'pipe'],
    ['has a pipe without bore', withPipe({ insideDiameterM: 0 }), 'no-bore', 'pipe'],
    ['has a length that is no number', withPipe({ lengthM: Number.NaN }), 'not-finite', 'pipe'],
    ['has an endless bore', withPipe({ insideDiameterM: Number.POSITIVE_INFINITY }), 'not-finite', 'pipe'],
    ['has a negative K', withPipe({ lossK: -1 }), 'bad-loss', 'pipe'],
    [
      'has a roughness coefficient of 0',
      withPipe({ friction: { kind: 'hazen-williams', c: 0 } }),
      'bad-friction',
      'pipe',
    ],
    ['leads nowhere', withPipe({ to: 'nowhere' }), 'unknown-end', 'pipe'],
    [
      'begins where it ends',
      { ...sound, links: [pipe, { ...pipe, id: 'ring', from: 'end' }] },
      'same-ends',
      'ring',
    ],
    ['names two links alike', { ...sound, links: [pipe, pipe] }, 'double-id', 'pipe'],
    ['names two nodes alike', { ...sound, nodes: [source, end, end] }, 'double-id', 'end'],
    [
      'stands at no height',
      { ...sound, nodes: [source, { ...end, elevationM: Number.NaN }] },
      'not-finite',
      'end',
    ],
    [
      'is filled with something that is not water',
      { ...sound, kinematicViscosityM2s: 0 },
      'bad-viscosity',
      '',
    ],
    [
      'has an emitter that falls with pressure',
      { ...sound, nodes: [source, { ...end, emitter: { ...orificeDripper, exponent: -0.5 } }] },
      'bad-emitter',
      'end',
    ],
    [
      'has a device whose loss falls with flow',
      {
        ...sound,
        links: [
          {
            kind: 'device',
            device: 'valve',
            id: 'valve',
            from: 'source',
            to: 'end',
            loss: {
              kind: 'points',
              points: [
                { flowM3s: 0, headM: 3 },
                { flowM3s: 1e-3, headM: 1 },
              ],
            },
          },
        ],
      },
      'bad-curve',
      'valve',
    ],
    [
      'has a supply that rises with flow',
      {
        ...sound,
        links: [
          {
            kind: 'supply',
            id: 'supply',
            from: 'source',
            to: 'end',
            curve: {
              kind: 'two-point',
              staticHeadM: 20,
              residualHeadM: 25,
              testFlowM3s: 1e-3,
              exponent: 1.85,
            },
          },
        ],
      },
      'bad-curve',
      'supply',
    ],
    [
      'must give water that only a shut pipe leads to',
      {
        ...sound,
        nodes: [source, { id: 'end', elevationM: 0, demandM3s: 1e-4 }],
        links: [{ ...pipe, isClosed: true }],
      },
      'demand-cut-off',
      'end',
    ],
  ];

  for (const [words, network, code, id] of cases)
    it(`because it ${words}`, () => {
      const solution = solveNetwork(network);
      expect(solution.status).toBe('refused');
      expect(solution.issues).toContainEqual({ code: `hydraulics.${code}`, id });
      expect(solution.headM.every(Number.isFinite)).toBe(true);
      for (const issue of solution.issues) expect(sentenceOf(issue.code)).not.toBeNull();
    });
});

describe('a network that is odd but can be solved', () => {
  it('with nothing that lets water out stands at its source head, and says so', () => {
    const solution = solveNetwork({ ...sound, nodes: [source, { id: 'end', elevationM: 0 }] });
    expect(solution.status).toBe('settled');
    expect(solution.headM[1]).toBeCloseTo(20, 9);
    expect(solution.issues).toEqual([{ code: 'hydraulics.no-outflow', id: '' }]);
  });

  it('with every emitter above the source lets nothing out', () => {
    const solution = solveNetwork({ ...sound, nodes: [source, { ...end, elevationM: 30 }] });
    expect(solution.status).toBe('settled');
    expect(solution.outflowM3s[1]).toBe(0);
    expect(solution.headM[1]).toBeCloseTo(20, 6);
  });

  it('with its only pipe shut lets nothing out', () => {
    const solution = solveNetwork(withPipe({ isClosed: true }));
    expect(solution.status).toBe('settled');
    expect(solution.flowM3s[0]).toBe(0);
    expect(solution.outflowM3s[1]).toBeLessThan(1e-12);
    expect(solution.state[0]).toBe('closed');
  });

  it('with one leg of a loop shut is fed from the other', () => {
    const loop: Network = {
      ...sound,
      nodes: [source, { id: 'tee', elevationM: 0 }, end],
      links: [
        { ...pipe, id: 'stub', to: 'tee' },
        { ...pipe, id: 'leg', from: 'tee' },
        { ...pipe, id: 'shut', from: 'tee', isClosed: true },
      ],
    };
    const solution = solveNetwork(loop);
    expect(solution.status).toBe('settled');
    expect(solution.flowM3s[2]).toBe(0);
    expect(solution.flowM3s[1]).toBeCloseTo(solution.outflowM3s[2]!, 12);
  });
});
