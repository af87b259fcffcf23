import { describe, expect, it } from 'vitest';
import { type Network, type NetworkLink, solveNetwork } from '../../../src/core/hydraulics';
import { orificeDripper, smoothTubing } from './ladders';

type Regulator = Extract<NetworkLink, { kind: 'regulator' }>;
const regulator: Regulator = {
  kind: 'regulator',
  id: 'regulator',
  from: 'inlet',
  to: 'outlet',
  setHeadM: 17.6,
  droop: 0,
  loss: { kind: 'quadratic', kSI: 2e6, offsetM: 0 },
  minInletHeadM: 21.1,
};

/** Source, 20 m of pipe, regulator, 30 m of pipe, an outlet of 0.5 L/s at 10 m; a second source may stand at the far end. */
function zone(
  sourceHeadM: number,
  changed: Partial<Regulator> = {},
  farHeadM: number | null = null,
): Network {
  const pipe = (id: string, from: string, to: string, lengthM: number): NetworkLink => ({
    kind: 'pipe',
    id,
    from,
    to,
    lengthM,
    insideDiameterM: 0.0266,
    friction: smoothTubing,
    lossK: 0,
  });
  const emitter = { ...orificeDripper, nominalFlowM3s: 5e-4 };
  return {
    nodes: [
      { id: 'source', elevationM: 0, fixedHeadM: sourceHeadM },
      { id: 'inlet', elevationM: 0 },
      { id: 'outlet', elevationM: 1 },
      { id: 'zone', elevationM: 1, emitter },
      ...(farHeadM === null ? [] : [{ id: 'far', elevationM: 0, fixedHeadM: farHeadM }]),
    ],
    links: [
      pipe('supply', 'source', 'inlet', 20),
      { ...regulator, ...changed },
      pipe('header', 'outlet', 'zone', 30),
      ...(farHeadM === null ? [] : [pipe('back', 'far', 'zone', 5)]),
    ],
    kinematicViscosityM2s: 1.004e-6,
  };
}

const pressureAtOutletM = (network: Network) => solveNetwork(network).headM[2]! - 1;

describe('a regulator finds its own state', () => {
  it('holds its setting where the inlet has enough', () => {
    const solution = solveNetwork(zone(40));
    expect(solution.state[1]).toBe('active');
    expect(solution.headM[2]! - 1).toBeCloseTo(17.6, 6);
    expect(solution.status).toBe('settled');
    expect(solution.worstResidualM3s).toBeLessThan(1e-9);
  });

  it('stands open where the inlet is short, and then passes what it can', () => {
    const solution = solveNetwork(zone(15));
    expect(solution.state[1]).toBe('open');
    expect(solution.headM[2]! - 1).toBeLessThan(17.6);
    const q = solution.flowM3s[1]!;
    // The open regulator takes its own k q^2, or the 3.5 m between setting and least inlet where that is more.
    expect(solution.headlossM[1]).toBeCloseTo(Math.max(2e6 * q * q, 3.5), 5);
  });

  it('falls below its setting as soon as the inlet falls below its minimum', () => {
    // 21.1 m at the inlet is the least; the source that gives just that is found by the pipe's own loss.
    let lowest = 40;
    for (let head = 40; head > 15; head -= 0.05)
      if (pressureAtOutletM(zone(head, { loss: { kind: 'quadratic', kSI: 0, offsetM: 0 } })) > 17.6 - 1e-4)
        lowest = head;
    const inletM = solveNetwork(zone(lowest, { loss: { kind: 'quadratic', kSI: 0, offsetM: 0 } })).headM[1]!;
    // The outlet stands 1 m above the inlet, so the inlet needs that metre too.
    expect(Math.abs(inletM - (21.1 + 1))).toBeLessThan(0.1);
  });

  it('shuts where the far side stands higher', () => {
    const solution = solveNetwork(zone(25, {}, 30));
    expect(solution.state[1]).toBe('closed');
    expect(solution.flowM3s[1]).toBe(0);
    expect(solution.headM[2]! - 1).toBeGreaterThan(17.6);
    expect(solution.status).toBe('settled');
  });

  it('droops with flow where it is given a droop', () => {
    const droop = 2000;
    const solution = solveNetwork(zone(40, { droop }));
    expect(solution.state[1]).toBe('active');
    expect(solution.headM[2]! - 1).toBeCloseTo(17.6 - droop * solution.flowM3s[1]!, 6);
  });

  it('passes from open to active without a step as the supply rises', () => {
    let before = pressureAtOutletM(zone(15));
    for (let head = 15.1; head < 35; head += 0.1) {
      const now = pressureAtOutletM(zone(head));
      expect(now).toBeGreaterThanOrEqual(before - 1e-6);
      expect(now - before).toBeLessThan(0.11);
      before = now;
    }
    expect(before).toBeCloseTo(17.6, 6);
  });

  it('turned the wrong way round lets nothing through', () => {
    const solution = solveNetwork(zone(40, { from: 'outlet', to: 'inlet' }));
    expect(solution.status).toBe('settled');
    expect(solution.state[1]).toBe('closed');
    expect(Math.abs(solution.flowM3s[0]!)).toBeLessThan(1e-9);
  });

  it('shut by hand lets nothing through', () => {
    const solution = solveNetwork(zone(40, { isClosed: true }));
    expect(solution.state[1]).toBe('closed');
    expect(solution.flowM3s[1]).toBe(0);
    expect(solution.headM[1]).toBeCloseTo(40, 6);
  });
});

describe('a part that lets water pass one way only', () => {
  const pipe = (id: string, from: string, to: string): NetworkLink => ({
    kind: 'pipe',
    id,
    from,
    to,
    lengthM: 20,
    insideDiameterM: 0.0266,
    friction: smoothTubing,
    lossK: 0,
  });
  /** Two sources with an outlet between; a check valve on the way from the first, K as a parabola. */
  const between = (nearHeadM: number, farHeadM: number, isOneWay = true): Network => ({
    nodes: [
      { id: 'near', elevationM: 0, fixedHeadM: nearHeadM },
      { id: 'before', elevationM: 0 },
      { id: 'behind', elevationM: 0 },
      { id: 'outlet', elevationM: 0, emitter: { ...orificeDripper, nominalFlowM3s: 5e-4 } },
      { id: 'far', elevationM: 0, fixedHeadM: farHeadM },
    ],
    links: [
      pipe('first', 'near', 'before'),
      {
        kind: 'device',
        id: 'check',
        device: 'check-valve',
        from: 'before',
        to: 'behind',
        loss: { kind: 'quadratic', kSI: 2e6, offsetM: 0 },
        isOneWay,
      },
      pipe('second', 'behind', 'outlet'),
      pipe('third', 'far', 'outlet'),
    ],
    kinematicViscosityM2s: 1.004e-6,
  });

  it('stands open while water runs its way, and takes its loss', () => {
    const solution = solveNetwork(between(30, 20));
    expect(solution.status).toBe('settled');
    expect(solution.state[1]).toBe('open');
    const q = solution.flowM3s[1]!;
    expect(q).toBeGreaterThan(1e-5);
    expect(solution.headlossM[1]).toBeCloseTo(2e6 * q * q, 6);
  });

  it('shuts where water would run back, and the other source then feeds all', () => {
    const solution = solveNetwork(between(20, 40));
    expect(solution.status).toBe('settled');
    expect(solution.state[1]).toBe('closed');
    expect(solution.flowM3s[1]).toBe(0);
    expect(solution.headM[1]).toBeCloseTo(20, 6);
    expect(solution.worstResidualM3s).toBeLessThan(1e-9);
    expect(solution.flowM3s[3]).toBeCloseTo(solution.outflowM3s[3]!, 9);
    // The same network with a part that lets water pass both ways runs back into the first source.
    expect(solveNetwork(between(20, 40, false)).flowM3s[1]!).toBeLessThan(-1e-5);
  });

  it('opens again from a solution in which it was shut, and shuts again from one in which it stood open', () => {
    const [open, shut] = [between(30, 20), between(20, 40)];
    expect(solveNetwork(open, solveNetwork(shut)).state[1]).toBe('open');
    expect(solveNetwork(shut, solveNetwork(open)).state[1]).toBe('closed');
    const again = solveNetwork(open, solveNetwork(shut)).headM;
    solveNetwork(open).headM.forEach((headM, index) => {
      expect(again[index]).toBeCloseTo(headM, 6);
    });
  });
});
