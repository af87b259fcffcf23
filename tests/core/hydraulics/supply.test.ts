import { describe, expect, it } from 'vitest';
import {
  deviceHeadM,
  type Network,
  type SupplyCurve,
  shiftSupply,
  solveNetwork,
  stillHeadM,
  supplyHeadM,
  withSupply,
} from '../../../src/core/hydraulics';
import published from '../../reference/hydraulics/supply.json';

const PSI_M = 0.3048 / 0.43352750192825; // 62.43 lb/ft3 / 144: a foot of water at 1000 kg/m3, by hand
const GPM_M3S = 3.785411784e-3 / 60;

const twoPoint = (staticPsi: number, residualPsi: number, gpm: number): SupplyCurve => ({
  kind: 'two-point',
  staticHeadM: staticPsi * PSI_M,
  residualHeadM: residualPsi * PSI_M,
  testFlowM3s: gpm * GPM_M3S,
  exponent: 1.85,
});

describe('a supply measured at two points', () => {
  it('gives the tabulated pressures of the hydrant-test relation', () => {
    for (const example of published.twoPoint.examples) {
      const curve = twoPoint(example.static, example.residual, example.at_gpm);
      for (const point of example.points)
        expect(supplyHeadM(curve, point.gpm * GPM_M3S) / PSI_M).toBeCloseTo(point.psi_n185, 3);
    }
  });

  it('gives 1,448 gpm at 20 psi for the wiki example whose printed 1,424 gpm is wrong', () => {
    // 800 gpm from 65 to 50 psi; Q = 800 x 3^(1/1.85) = 1 448.7 gpm by hand (3^0.54 rounds to 1 447.9).
    const curve = twoPoint(65, 50, 800);
    expect(supplyHeadM(curve, 1448.7 * GPM_M3S) / PSI_M).toBeCloseTo(20, 1);
  });

  it('moves as a whole when the mains stand higher or lower', () => {
    const curve = twoPoint(70, 50, 12);
    const lower = shiftSupply(curve, -10 * PSI_M);
    for (const gpm of [0, 5, 12])
      expect(supplyHeadM(curve, gpm * GPM_M3S) - supplyHeadM(lower, gpm * GPM_M3S)).toBeCloseTo(
        10 * PSI_M,
        9,
      );
  });
});

describe('a pump, well or tank curve', () => {
  const pump: SupplyCurve = {
    kind: 'points',
    points: [
      { flowM3s: 0, headM: 35 },
      { flowM3s: 5e-4, headM: 28 },
      { flowM3s: 1e-3, headM: 14 },
    ],
  };

  it('runs straight between its points and on past the last', () => {
    expect(stillHeadM(pump)).toBe(35);
    expect(supplyHeadM(pump, 2.5e-4)).toBeCloseTo(31.5, 9);
    expect(supplyHeadM(pump, 1e-3)).toBeCloseTo(14, 9);
    expect(supplyHeadM(pump, 1.1e-3)).toBeCloseTo(11.2, 9);
  });
});

describe('losses of devices', () => {
  it('grow with the square: a 5/8 in meter of 15 psi at 20 gpm takes 2.4 psi at 8 gpm', () => {
    const loss = { kind: 'quadratic', kSI: (15 * PSI_M) / (20 * GPM_M3S) ** 2, offsetM: 0 } as const;
    expect(deviceHeadM(loss, 8 * GPM_M3S) / PSI_M).toBeCloseTo(2.4, 6);
  });

  it('of a reduced-pressure backflow preventer hardly change with flow', () => {
    const loss = { kind: 'quadratic', kSI: 0, offsetM: 8.4 } as const;
    expect(deviceHeadM(loss, 1e-4)).toBeCloseTo(8.4, 4);
    expect(deviceHeadM(loss, 1e-3)).toBeCloseTo(8.4, 6);
    expect(deviceHeadM(loss, 0)).toBe(0);
  });
});

describe('the operating point', () => {
  it('is where supply and zone meet: 13.407 gpm at 45.447 psi for the handbook example', () => {
    // 70 psi static, 50 psi at 12 gpm; fixed losses 8 psi; a zone of 12 gpm at 30 psi with x 0.5.
    // 70 - 20 (Q/12)^1.85 - 8 = 30 (Q/12)^2, solved by hand with exponent 1.85.
    const network: Network = {
      nodes: [
        { id: 'main', elevationM: 0, fixedHeadM: 70 * PSI_M },
        { id: 'connection', elevationM: 0 },
        {
          id: 'zone',
          elevationM: 0,
          emitter: {
            kind: 'power',
            nominalFlowM3s: 12 * GPM_M3S,
            nominalHeadM: 30 * PSI_M,
            exponent: 0.5,
            variationCv: 0,
            minHeadM: 0,
            maxHeadM: 100,
          },
        },
      ],
      links: [
        { kind: 'supply', id: 'supply', from: 'main', to: 'connection', curve: twoPoint(70, 50, 12) },
        {
          kind: 'device',
          device: 'backflow',
          id: 'backflow',
          from: 'connection',
          to: 'zone',
          loss: { kind: 'quadratic', kSI: 0, offsetM: 8 * PSI_M },
        },
      ],
      kinematicViscosityM2s: 1e-6,
    };
    const solution = solveNetwork(network);
    expect(solution.flowM3s[0]! / GPM_M3S).toBeCloseTo(13.407, 2);
    expect(solution.headM[1]! / PSI_M).toBeCloseTo(45.447, 1);
    const q = solution.flowM3s[0]! / GPM_M3S / 12;
    expect(70 - 20 * q ** 1.85 - 8 - 30 * q ** 2).toBeCloseTo(0, 3);
    const lower = solveNetwork(withSupply(network, 'supply', shiftSupply(twoPoint(70, 50, 12), -10 * PSI_M)));
    expect(lower.flowM3s[0]).toBeLessThan(solution.flowM3s[0]!);
    expect(lower.headM[0]).toBeCloseTo(60 * PSI_M, 9);
  });
});
