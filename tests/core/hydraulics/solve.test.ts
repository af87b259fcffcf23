import { describe, expect, it } from 'vitest';
import { type Network, type NetworkLink, type NetworkNode, solveNetwork } from '../../../src/core/hydraulics';

const smoothTubing = {
  kind: 'darcy-weisbach',
  absoluteRoughnessM: 1.5e-6,
  turbulent: 'blasius',
} as const;
const dripper = {
  kind: 'power',
  nominalFlowM3s: 1.6e-3 / 3600,
  nominalHeadM: 10,
  exponent: 0.5,
  variationCv: 0.03,
  minHeadM: 3,
  maxHeadM: 30,
} as const;

/** A loop of tubing leaving a tee and coming back to it, with an emitter every 30 cm. */
function loopNetwork(emitters: number): Network {
  const nodes: NetworkNode[] = [
    { id: 'source', elevationM: 0, fixedHeadM: 15 },
    { id: 'tee', elevationM: 0 },
  ];
  const links: NetworkLink[] = [];
  const pipe = (id: string, from: string, to: string, lengthM: number) =>
    links.push({
      kind: 'pipe',
      id,
      from,
      to,
      lengthM,
      insideDiameterM: 0.0145,
      friction: smoothTubing,
      lossK: 0,
    });
  pipe('stub', 'source', 'tee', 3);
  let before = 'tee';
  for (let i = 1; i <= emitters; i++) {
    nodes.push({ id: `e${i}`, elevationM: 0, emitter: dripper });
    pipe(`p${i}`, before, `e${i}`, 0.3);
    before = `e${i}`;
  }
  pipe('close', before, 'tee', 0.3);
  return { nodes, links, kinematicViscosityM2s: 1.004e-6 };
}

describe('a loop of tubing on a tee', () => {
  const solution = solveNetwork(loopNetwork(101));

  it('settles with every junction in balance', () => {
    expect(solution.status).toBe('settled');
    expect(solution.worstResidualM3s).toBeLessThan(1e-12);
  });

  it('is fed evenly from both ends, so the two legs mirror each other', () => {
    for (let i = 1; i <= 50; i++)
      expect(Math.abs(solution.headM[1 + i]! - solution.headM[103 - i]!)).toBeLessThan(1e-9);
  });

  it('is lowest at the middle, where the two flows meet', () => {
    const lowest = solution.headM.indexOf(Math.min(...solution.headM));
    expect(lowest).toBe(52);
  });
});

describe('a network that cannot be solved says why', () => {
  it('has no source', () => {
    const network = loopNetwork(3);
    const [, ...rest] = network.nodes;
    const solution = solveNetwork({ ...network, nodes: [{ id: 'source', elevationM: 0 }, ...rest] });
    expect(solution.status).toBe('refused');
    expect(solution.issues).toEqual([{ code: 'hydraulics.no-source', id: '' }]);
  });
});
