import { describe, expect, it } from 'vitest';
import { readInp } from '../../../src/core/exchange';
import {
  EPANET_CONSTANTS,
  type Network,
  prepareNetwork,
  solveNetwork,
  solvePrepared,
  supplyHeadM,
  withFigures,
} from '../../../src/core/hydraulics';
import { askEngine } from '../../reference/hydraulics/engine';

/** Cubic metres a second in a litre a minute. */
const LPM = 1e-3 / 60;

describe('worked networks of textbooks and papers', () => {
  // Cengel and Cimbala, Fluid Mechanics, pumps: the pump gives 7.46 - 0.0453 V^2 (m, L/min), the pipework asks 3.52 + 0.0261 V^2.
  // Data read; answer by hand: V^2 = 3.94 / 0.0714, V = 7.428 L/min (7.43 as printed, from memory), 4.960 m.
  it('a pump between two reservoirs runs where its curve meets that of the pipework: 7.43 L/min at 4.96 m', () => {
    const points = Array.from({ length: 241 }, (_, index) => {
      const lpm = index / 20;
      return { flowM3s: lpm * LPM, headM: 7.46 - 0.0453 * lpm ** 2 };
    });
    const network: Network = {
      nodes: [
        { id: 'lower', elevationM: 0, fixedHeadM: 7.46 },
        { id: 'outlet', elevationM: 0 },
        { id: 'upper', elevationM: 0, fixedHeadM: 3.52 },
      ],
      links: [
        { kind: 'supply', id: 'pump', from: 'lower', to: 'outlet', curve: { kind: 'points', points } },
        {
          kind: 'device',
          id: 'pipework',
          device: 'fitting',
          from: 'outlet',
          to: 'upper',
          loss: { kind: 'quadratic', kSI: 0.0261 / LPM ** 2, offsetM: 0 },
        },
      ],
      kinematicViscosityM2s: 1.004e-6,
    };
    const solution = solveNetwork(network);
    expect(solution.status).toBe('settled');
    expect(Math.abs(solution.flowM3s[0]! / LPM - 7.428)).toBeLessThan(0.002);
    expect(Math.abs(solution.headM[1]! - 4.96)).toBeLessThan(0.002);
  });

  // Hydrant test in teaching slides on NFPA 13: 90 psi at rest, 65 psi while 1,000 gpm run, 1,780 gpm read off the graph at
  // 20 psi. The relation itself gives 1,000 x (70 / 25)^0.54 = 1,744 by hand; a graph is read to some 2.5 %.
  it('a hydrant of 90 psi at rest and 65 psi at 1,000 gpm has some 1,780 gpm left at 20 psi', () => {
    const curve = {
      kind: 'two-point',
      staticHeadM: 90,
      residualHeadM: 65,
      testFlowM3s: 1000,
      exponent: 1.85,
    } as const;
    let low = 1000;
    let high = 2500;
    for (let step = 0; step < 40; step++) {
      const middle = (low + high) / 2;
      if (supplyHeadM(curve, middle) > 20) low = middle;
      else high = middle;
    }
    expect(Math.abs(low / 1780 - 1)).toBeLessThan(0.025);
    expect(Math.abs(low / 1744 - 1)).toBeLessThan(0.002);
  });
});

/**
 * The two-loop network of Alperovits and Shamir (1977): 210 m of head, eight pipes of 1,000 m and C 130, here with the
 * sizes of Savic and Walters (1997), 18, 10, 16, 4, 16, 10, 10 and 1 in. Demands in m3/h.
 */
const TWO_LOOPS = `[JUNCTIONS]
2 150 27.777778
3 160 27.777778
4 155 33.333333
5 150 75
6 165 91.666667
7 160 55.555556
[RESERVOIRS]
1 210
[PIPES]
P1 1 2 1000 457.2 130 0 Open
P2 2 3 1000 254 130 0 Open
P3 2 4 1000 406.4 130 0 Open
P4 4 5 1000 101.6 130 0 Open
P5 4 6 1000 406.4 130 0 Open
P6 6 7 1000 254 130 0 Open
P7 3 5 1000 254 130 0 Open
P8 5 7 1000 25.4 130 0 Open
[OPTIONS]
Units LPS
Headloss H-W
Trials 200
Accuracy 1e-8
[TIMES]
Duration 0
[REPORT]
Status No
Summary No
[END]
`;
/** Pressure at nodes 2 to 7 as printed with those sizes, m; from memory. */
const PRINTED_M = [53.25, 30.46, 43.45, 33.81, 30.44, 30.55];

describe('the two-loop network of the literature', () => {
  const read = readInp(TWO_LOOPS, { fileName: 'two-loops.inp' });
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const { network, outlets } = read.value;
  const ours = solvePrepared(withFigures(prepareNetwork(network, EPANET_CONSTANTS), network, outlets));
  const pressureM = (id: string): number => {
    const at = network.nodes.findIndex((node) => node.id === id);
    return ours.headM[at]! - network.nodes[at]!.elevationM;
  };

  it('has the printed pressure at each of its six nodes, to 5 cm', () => {
    expect(ours.status).toBe('settled');
    PRINTED_M.forEach((printedM, index) => {
      expect(Math.abs(pressureM(String(index + 2)) - printedM)).toBeLessThan(0.05);
    });
  });

  it('has the pressure that EPANET finds, to 0.4 mm, and its flow in each pipe', async () => {
    const engine = await askEngine(TWO_LOOPS);
    for (const [id, theirsM] of engine.pressure) {
      if (id !== '1') expect(Math.abs(pressureM(id) - theirsM)).toBeLessThan(0.0004);
    }
    network.links.forEach((link, index) => {
      expect(Math.abs(ours.flowM3s[index]! * 1000 - engine.flow.get(link.id)!)).toBeLessThan(0.01);
    });
  });
});
