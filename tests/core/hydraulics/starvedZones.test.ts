import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Network,
  type NetworkLink,
  prepareNetwork,
  solveNetwork,
  solvePrepared,
} from '../../../src/core/hydraulics';
import { compensatingDripper, hazen, orificeDripper, smoothTubing, testNetwork } from './ladders';

const loop = fc.record({
  emitters: fc.integer({ min: 1, max: 50 }),
  spacingM: fc.double({ min: 0.1, max: 3, noNaN: true }),
  riseM: fc.double({ min: -6, max: 8, noNaN: true }),
  isClosed: fc.boolean(),
});

/** Zones fed far too little, or nothing at all, through a supply that gives way, a valve and a regulator. */
const starved = fc
  .record({
    loops: fc.array(loop, { minLength: 1, maxLength: 4 }),
    staticHeadM: fc.double({ min: 0.05, max: 14, noNaN: true }),
    residualShare: fc.double({ min: 0, max: 1, noNaN: true }),
    testFlowM3s: fc.double({ min: 1e-6, max: 1e-3, noNaN: true }),
    valveKSI: fc.double({ min: 1e4, max: 1e9, noNaN: true }),
    setHeadM: fc.double({ min: 1, max: 20, noNaN: true }),
    gapM: fc.double({ min: 0, max: 5, noNaN: true }),
    emitter: fc.constantFrom(
      orificeDripper,
      compensatingDripper,
      { ...compensatingDripper, openHeadM: 2, nominalFlowM3s: 5e-6 },
      { ...orificeDripper, exponent: 0.05, nominalFlowM3s: 5e-6 },
      { ...orificeDripper, exponent: 1 },
    ),
    tubing: fc.constantFrom(smoothTubing, hazen(140)),
    shut: fc.nat({ max: 400 }),
  })
  .map((drawn): Network => {
    const inner = testNetwork({
      loops: drawn.loops,
      sourceHeadM: 0,
      trunkLengthM: 10,
      emitter: drawn.emitter,
      tubing: drawn.tubing,
      trunk: hazen(150),
      emitterLossK: 0.5,
    });
    const links: NetworkLink[] = [
      {
        kind: 'supply',
        id: 'supply',
        from: 'mains',
        to: 'v',
        curve: {
          kind: 'two-point',
          staticHeadM: drawn.staticHeadM,
          residualHeadM: drawn.staticHeadM * drawn.residualShare,
          testFlowM3s: drawn.testFlowM3s,
          exponent: 1.85,
        },
      },
      {
        kind: 'device',
        device: 'valve',
        id: 'valve',
        from: 'v',
        to: 'r',
        loss: { kind: 'quadratic', kSI: drawn.valveKSI, offsetM: 0.5 },
      },
      {
        kind: 'regulator',
        id: 'regulator',
        from: 'r',
        to: 'header',
        setHeadM: drawn.setHeadM,
        droop: 0,
        loss: { kind: 'quadratic', kSI: 1e6, offsetM: 0 },
        minInletHeadM: drawn.setHeadM + drawn.gapM,
      },
      ...inner.links.map((link, i) => ({
        ...link,
        from: link.from === 'source' ? 'header' : link.from,
        ...(i === drawn.shut ? { isClosed: true } : {}),
      })),
    ];
    return {
      ...inner,
      nodes: [
        { id: 'mains', elevationM: 0, fixedHeadM: drawn.staticHeadM },
        ...['v', 'r', 'header'].map((id) => ({ id, elevationM: 0 })),
        ...inner.nodes.filter(({ id }) => id !== 'source'),
      ],
      links,
    };
  });

describe('a zone that is starved', () => {
  it('still gets an answer: balanced, finite, and no emitter drawing water in', () => {
    fc.assert(
      fc.property(starved, (network) => {
        const solution = solveNetwork(network);
        expect(solution.status).toBe('settled');
        expect(solution.worstResidualM3s).toBeLessThan(1e-9);
        expect(solution.headM.every(Number.isFinite)).toBe(true);
        network.nodes.forEach((node, i) => {
          if (node.emitter !== undefined) expect(solution.outflowM3s[i]).toBeGreaterThanOrEqual(0);
        });
      }),
      { numRuns: 150 },
    );
  });
});

const zone = (changed: Partial<Parameters<typeof testNetwork>[0]>): Network =>
  testNetwork({
    loops: [{ emitters: 40, spacingM: 0.3, riseM: 0, isClosed: true }],
    sourceHeadM: 15,
    trunkLengthM: 5,
    emitter: compensatingDripper,
    tubing: smoothTubing,
    trunk: smoothTubing,
    emitterLossK: 0.5,
    ...changed,
  });

describe('extremes', () => {
  it('with static below every threshold each emitter gives its rising branch', () => {
    const solution = solveNetwork(zone({ sourceHeadM: 3 }));
    expect(solution.status).toBe('settled');
    // Root of 3/7 of nominal, less a little friction.
    const [, , first] = solution.outflowM3s;
    expect(first! / compensatingDripper.nominalFlowM3s).toBeCloseTo(Math.sqrt(3 / 7), 2);
  });

  it('with check valves that do not open nothing flows and the tubing stands full', () => {
    const solution = solveNetwork(
      zone({ sourceHeadM: 1.5, emitter: { ...compensatingDripper, openHeadM: 2 } }),
    );
    expect(solution.status).toBe('settled');
    expect(Math.abs(solution.outflowM3s[0]!)).toBeLessThan(1e-10);
    solution.headM.forEach((headM) => {
      expect(headM).toBeCloseTo(1.5, 4);
    });
  });

  it('emitters of a drop a minute and emitters like open taps stand in one zone', () => {
    const mixed = zone({});
    const nodes = mixed.nodes.map((node, i) =>
      node.emitter === undefined
        ? node
        : { ...node, emitter: { ...compensatingDripper, nominalFlowM3s: i % 2 === 0 ? 1e-9 : 1e-5 } },
    );
    const solution = solveNetwork({ ...mixed, nodes });
    expect(solution.status).toBe('settled');
    expect(solution.worstResidualM3s).toBeLessThan(1e-12);
  });

  it('a hair of pipe beside a mile of main settles', () => {
    const network = zone({});
    const links = network.links.map((link, i) =>
      link.kind === 'pipe' ? { ...link, lengthM: i === 0 ? 1609 : i % 7 === 0 ? 1e-4 : link.lengthM } : link,
    );
    const solution = solveNetwork({ ...network, links });
    expect(solution.status).toBe('settled');
    expect(solution.worstResidualM3s).toBeLessThan(1e-9);
  });

  it('twenty thousand emitters in one zone settle in few steps, with ordering fill no larger than the zone', () => {
    const big = zone({
      loops: Array.from({ length: 50 }, () => ({ emitters: 400, spacingM: 0.3, riseM: 0, isClosed: true })),
      sourceHeadM: 40,
      emitter: { ...compensatingDripper, nominalFlowM3s: 2e-8 },
    });
    const prepared = prepareNetwork(big);
    const solution = solvePrepared(prepared);
    expect(solution.status).toBe('settled');
    expect(solution.iterations).toBeLessThan(10);
    // Entries below the diagonal: at most two a junction on loops and ladders.
    expect(prepared.topology!.pattern.row.length).toBeLessThan(2 * big.nodes.length);
  });
});
