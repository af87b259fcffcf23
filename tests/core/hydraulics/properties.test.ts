import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  frictionHeadM,
  type Network,
  prepareNetwork,
  solveNetwork,
  solvePrepared,
  withFigures,
  withSourceHeadsMoved,
} from '../../../src/core/hydraulics';
import { compensatingDripper, hazen, orificeDripper, smoothTubing, testNetwork } from './ladders';

const loop = fc.record({
  emitters: fc.integer({ min: 1, max: 60 }),
  spacingM: fc.double({ min: 0.1, max: 0.6, noNaN: true }),
  riseM: fc.double({ min: -3, max: 3, noNaN: true }),
  isClosed: fc.boolean(),
});
const spec = fc.record({
  loops: fc.array(loop, { minLength: 1, maxLength: 4 }),
  sourceHeadM: fc.double({ min: 4, max: 45, noNaN: true }),
  trunkLengthM: fc.double({ min: 0.5, max: 40, noNaN: true }),
  emitter: fc.constantFrom(
    orificeDripper,
    compensatingDripper,
    { ...compensatingDripper, plateauSlopePerM: 0.003 },
    { ...compensatingDripper, openHeadM: 1.4 },
    { ...orificeDripper, exponent: 0.05 },
    { ...orificeDripper, exponent: 1 },
  ),
  tubing: fc.constantFrom(smoothTubing, hazen(140)),
  trunk: fc.constantFrom(smoothTubing, hazen(150)),
  emitterLossK: fc.constantFrom(0, 0.5),
});
const networks = spec.map(testNetwork);

/** Head lost along a link by its law, at the flow the solution gives it. */
function lawLossM(network: Network, i: number, flowM3s: number): number {
  const link = network.links[i]!;
  if (link.kind !== 'pipe') throw new Error('pipes only');
  return frictionHeadM(link, flowM3s, network.kinematicViscosityM2s);
}

describe('any zone of loops and dead ends', () => {
  it('settles with every junction in balance to 1e-9 m3/s', () => {
    fc.assert(
      fc.property(networks, (network) => {
        const solution = solveNetwork(network);
        expect(solution.status).toBe('settled');
        expect(solution.worstResidualM3s).toBeLessThan(1e-9);
        const given = -solution.outflowM3s[0]!;
        const taken = solution.outflowM3s.reduce((sum, q, i) => (i === 0 ? sum : sum + q), 0);
        expect(Math.abs(given - taken)).toBeLessThan(1e-9);
      }),
      { numRuns: 150 },
    );
  });

  it('loses along every pipe exactly what its law says, so that every loop closes', () => {
    fc.assert(
      fc.property(networks, (network) => {
        const solution = solveNetwork(network);
        network.links.forEach((_, i) => {
          const lost = lawLossM(network, i, solution.flowM3s[i]!);
          expect(Math.abs(solution.headlossM[i]! - lost)).toBeLessThan(1e-6);
        });
      }),
      { numRuns: 60 },
    );
  });

  it('never loses pressure anywhere when the source gives more', () => {
    fc.assert(
      fc.property(networks, fc.double({ min: 0.01, max: 15, noNaN: true }), (network, moreM) => {
        const before = solveNetwork(network);
        const after = solveNetwork(withSourceHeadsMoved(network, moreM));
        before.headM.forEach((headM, i) => {
          expect(after.headM[i]).toBeGreaterThanOrEqual(headM - 1e-7);
        });
      }),
      { numRuns: 80 },
    );
  });

  it('is the same solved warm as cold', () => {
    fc.assert(
      fc.property(networks, fc.double({ min: -2, max: 10, noNaN: true }), (network, moreM) => {
        const prepared = prepareNetwork(network);
        const start = solvePrepared(prepared);
        const moved = withFigures(prepared, withSourceHeadsMoved(network, moreM));
        const warm = solvePrepared(moved, start);
        const cold = solvePrepared(moved);
        expect(warm.status).toBe('settled');
        warm.headM.forEach((headM, i) => {
          expect(Math.abs(headM - cold.headM[i]!)).toBeLessThan(1e-5);
        });
      }),
      { numRuns: 60 },
    );
  });

  it('mirrors: a loop walked the other way round has the same heads', () => {
    fc.assert(
      fc.property(spec, (drawn) => {
        const network = testNetwork(drawn);
        const mirrored: Network = {
          ...network,
          nodes: [...network.nodes].reverse(),
          links: [...network.links].reverse().map((link) => ({ ...link, from: link.to, to: link.from })),
        };
        const one = solveNetwork(network);
        const other = solveNetwork(mirrored);
        const last = network.nodes.length - 1;
        one.headM.forEach((headM, i) => {
          expect(Math.abs(headM - other.headM[last - i]!)).toBeLessThan(1e-6);
        });
      }),
      { numRuns: 60 },
    );
  });

  it('on a symmetrical loop has symmetrical heads', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 80 }),
        fc.double({ min: -2, max: 2, noNaN: true }),
        (n, riseM) => {
          const network = testNetwork({
            loops: [{ emitters: n, spacingM: 0.3, riseM, isClosed: true }],
            sourceHeadM: 15,
            trunkLengthM: 3,
            emitter: orificeDripper,
            tubing: smoothTubing,
            trunk: smoothTubing,
            emitterLossK: 0.3,
          });
          const { headM } = solveNetwork(network);
          for (let i = 1; i <= n; i++)
            expect(Math.abs(headM[1 + i]! - headM[1 + (n + 1 - i)]!)).toBeLessThan(1e-6);
        },
      ),
      { numRuns: 40 },
    );
  });
});
