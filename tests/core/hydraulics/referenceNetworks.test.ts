import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { type ConstantsProfile, type InpNetwork, readInp } from '../../../src/core/exchange';
import {
  frictionLawOf,
  type NetworkLink,
  prepareNetwork,
  type Solution,
  solvePrepared,
  spreadOf,
  withFigures,
} from '../../../src/core/hydraulics';
import { grid5000, gridInp } from '../../reference/hydraulics/grids';

const folder = new URL('../../reference/hydraulics/networks/', import.meta.url);
const load = (name: string) => readFileSync(new URL(name, folder), 'utf8');

/** Factors of EPANET's source, written out again here: 448.831 gpm and 1699 L/min in a cubic foot a second. */
const CUBIC_FOOT_M3 = 0.3048 ** 3;
const EPANET_GPM = CUBIC_FOOT_M3 / 448.831;
const EPANET_LPM = CUBIC_FOOT_M3 / 1699;
const EXACT_GPM = 3.785411784e-3 / 60;
const EXACT_LPM = 1e-3 / 60;
const FOOT_M = 0.3048;
/** psi in a metre of water: 0.4333 psi a foot. */
const PSI_PER_M = 0.4333 / 0.3048;

interface Answer {
  readonly headFt?: readonly number[];
  readonly headM?: readonly number[];
  readonly outflow: readonly number[];
  readonly flow: readonly number[];
}

function open(text: string, profile: ConstantsProfile): InpNetwork {
  const outcome = readInp(text, { fileName: 'reference.inp', profile });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

function solve({ network, constants, outlets }: InpNetwork): Solution {
  return solvePrepared(withFigures(prepareNetwork(network, constants), network, outlets));
}

function compare(solution: Solution, answer: Answer, gpmM3s: number, lpmM3s: number) {
  const isUs = answer.headFt !== undefined;
  const heads = (answer.headFt ?? answer.headM)!.map((head) => head * (isUs ? FOOT_M : 1));
  const unit = isUs ? gpmM3s : lpmM3s;
  let worstPsi = 0;
  heads.forEach((head, i) => {
    worstPsi = Math.max(worstPsi, Math.abs(solution.headM[i]! - head) * PSI_PER_M);
  });
  let total = 0;
  let engineTotal = 0;
  let worstOutflow = 0;
  answer.outflow.forEach((outflow, i) => {
    if (outflow <= 0) return;
    const ours = solution.outflowM3s[i]! / unit;
    total += ours;
    engineTotal += outflow;
    worstOutflow = Math.max(worstOutflow, Math.abs(ours / outflow - 1));
  });
  let worstLink = 0;
  answer.flow.forEach((flow, i) => {
    worstLink = Math.max(worstLink, Math.abs(solution.flowM3s[i]! / unit - flow));
  });
  return { worstPsi, totalRatio: Math.abs(total / engineTotal - 1), worstOutflow, worstLink, engineTotal };
}

const cases = readdirSync(folder)
  .filter((name) => name.endsWith('.inp'))
  .map((name) => {
    const [id, headloss] = [name.slice(0, -'.D-W.inp'.length), name.slice(-7, -4)];
    return { name, id, headloss };
  })
  .sort((a, b) => (a.name < b.name ? -1 : 1));
const answerOf = (id: string, headloss: string): Answer =>
  (JSON.parse(load(`${id}.json`)) as Record<string, Answer>)[headloss]!;

describe('every node of the reference networks, held against EPANET', () => {
  it('finds all stored networks, most under both friction laws', () => {
    expect(cases).toHaveLength(29);
  });

  for (const { name, id, headloss } of cases) {
    const answer = answerOf(id, headloss);

    it(`${name}: with EPANET's constants to 0.001 % of flow and 0.0005 psi`, () => {
      const solution = solve(open(load(name), 'epanet'));
      expect(solution.status).toBe('settled');
      expect(solution.worstResidualM3s).toBeLessThan(1e-9);
      const { worstPsi, totalRatio, worstOutflow, worstLink, engineTotal } = compare(
        solution,
        answer,
        EPANET_GPM,
        EPANET_LPM,
      );
      expect(worstPsi).toBeLessThan(0.0005);
      expect(totalRatio).toBeLessThan(1e-5);
      expect(worstOutflow).toBeLessThan(1e-5);
      expect(worstLink).toBeLessThan(1e-5 * engineTotal);
    });

    it(`${name}: with our own constants to 0.1 % of flow and 0.05 psi`, () => {
      const { worstPsi, totalRatio } = compare(solve(open(load(name), 'own')), answer, EXACT_GPM, EXACT_LPM);
      expect(worstPsi).toBeLessThan(0.05);
      expect(totalRatio).toBeLessThan(1e-3);
    });
  }

  for (const { name, id } of cases.filter(({ headloss }) => headloss === 'D-W'))
    it(`${name}: with Blasius in place of Swamee-Jain to 0.2 % of flow and 0.08 psi`, () => {
      const inp = open(load(name), 'own');
      const links: NetworkLink[] = inp.network.links.map((link) =>
        link.kind === 'pipe' && link.friction.kind === 'darcy-weisbach'
          ? { ...link, friction: { ...link.friction, turbulent: 'blasius' } }
          : link,
      );
      const solution = solve({ ...inp, network: { ...inp.network, links } });
      const { worstPsi, totalRatio } = compare(solution, answerOf(id, 'D-W'), EXACT_GPM, EXACT_LPM);
      // P17 runs single pipes with given demands, P16 is an overlong run: what parts the laws there is the formulas alone, and
      // is held exactly below.
      const lostPsi = (Math.max(...solution.headM) - Math.min(...solution.headM)) * PSI_PER_M;
      const isFar = id.startsWith('P16') || id.startsWith('P17');
      expect(worstPsi).toBeLessThan(isFar ? 0.025 * lostPsi : 0.08);
      expect(totalRatio).toBeLessThan(isFar ? 3e-3 : 2e-3);
    });
});

describe('Blasius beside Swamee-Jain', () => {
  /** Both formulas written out again: Blasius (1913), f = 0.3164 Re^-0.25; Swamee and Jain (1976). */
  const blasius = (re: number): number => 0.3164 * re ** -0.25;
  const swameeJain = (re: number, roughness: number): number =>
    0.25 / Math.log10(roughness / 3.7 + 5.74 * re ** -0.9) ** 2;

  it('part in the single pipes of P17 by the ratio of the two formulas at each flow, and by nothing else', () => {
    const inp = open(load('P17_single_pipes.D-W.inp'), 'own');
    const blasiusLinks: NetworkLink[] = inp.network.links.map((link) =>
      link.kind === 'pipe' && link.friction.kind === 'darcy-weisbach'
        ? { ...link, friction: { ...link.friction, turbulent: 'blasius' } }
        : link,
    );
    const one = solve(inp);
    const other = solve({ ...inp, network: { ...inp.network, links: blasiusLinks } });
    let turbulent = 0;
    inp.network.links.forEach((link, i) => {
      if (link.kind !== 'pipe' || link.friction.kind !== 'darcy-weisbach' || link.lossK > 0) return;
      const boreM = link.insideDiameterM;
      const re = (4 * Math.abs(one.flowM3s[i]!)) / (Math.PI * boreM * inp.network.kinematicViscosityM2s);
      if (re < 4000) return;
      turbulent++;
      const ratio = blasius(re) / swameeJain(re, link.friction.absoluteRoughnessM / boreM);
      expect(Math.abs(other.headlossM[i]! / one.headlossM[i]! / ratio - 1)).toBeLessThan(1e-6);
    });
    expect(turbulent).toBeGreaterThan(5);
  });

  it('is not what the program designs with: tubing, headers and mains of the catalogue take Swamee-Jain or Hazen-Williams', () => {
    const laws = [...typicalCatalog.driplines, ...typicalCatalog.pipes].map(frictionLawOf);
    const turbulent = laws.flatMap((law) => (law.kind === 'darcy-weisbach' ? [law.turbulent] : []));
    expect(new Set(turbulent)).toEqual(new Set(['swamee-jain']));
  });
});

describe('pressure-driven demands with our own constants', () => {
  it('give exactly their full demand wherever 10 psi is there, and the root of pressure below', () => {
    const inp = open(load('P10_lateral_PDA.D-W.inp'), 'own');
    const solution = solve(inp);
    let full = 0;
    inp.network.nodes.forEach((node, i) => {
      if (node.emitter === undefined) return;
      // 10 psi is 7.0307 m of water; the knee is rounded over 0.1 % of it.
      const share = (solution.headM[i]! - node.elevationM) / 7.0307;
      const gpm = solution.outflowM3s[i]! / EXACT_GPM;
      if (share > 1.002) full++;
      if (Math.abs(share - 1) > 0.002) expect(gpm).toBeCloseTo(0.01 * Math.min(1, Math.sqrt(share)), 6);
    });
    expect(full).toBeGreaterThan(50);
  });
});

describe('the grids of 5,000 emitters, laid out anew', () => {
  interface Summary {
    readonly id: string;
    readonly headloss: 'H-W' | 'D-W';
    readonly emitters: number;
    readonly supplyFlow: number;
    readonly qMin: number;
    readonly qMax: number;
    readonly pMin: number;
    readonly pMax: number;
  }
  const summaries = JSON.parse(load('grids-5000.json')) as readonly Summary[];

  for (const summary of summaries)
    it(`${summary.id} ${summary.headloss}: total, least and greatest flow and pressure`, () => {
      const kind = summary.id.slice(0, 3) as 'P11' | 'P12' | 'P13';
      const inp = open(gridInp(grid5000(kind, summary.headloss)), 'epanet');
      const solution = solve(inp);
      const flows: number[] = [];
      const pressures: number[] = [];
      inp.network.nodes.forEach((node, i) => {
        if (node.emitter === undefined) return;
        flows.push(solution.outflowM3s[i]! / EPANET_GPM);
        pressures.push((solution.headM[i]! - node.elevationM) * PSI_PER_M);
      });
      const flow = spreadOf(flows);
      const pressure = spreadOf(pressures);
      expect(flows).toHaveLength(summary.emitters);
      expect(Math.abs((flow.mean * flows.length) / summary.supplyFlow - 1)).toBeLessThan(1e-5);
      expect(Math.abs(flow.min / summary.qMin - 1)).toBeLessThan(1e-5);
      expect(Math.abs(flow.max / summary.qMax - 1)).toBeLessThan(1e-5);
      expect(Math.abs(pressure.min - summary.pMin)).toBeLessThan(0.0005);
      expect(Math.abs(pressure.max - summary.pMax)).toBeLessThan(0.0005);
    });
});
