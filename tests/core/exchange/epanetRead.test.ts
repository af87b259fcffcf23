import { describe, expect, it } from 'vitest';
import { readInp } from '../../../src/core/exchange';
import { sentenceOf } from '../../../src/core/words';

const base = (parts: Readonly<Record<string, string>>): string => {
  const sections: Record<string, string> = {
    JUNCTIONS: 'J 10 0\nK 5 2',
    RESERVOIRS: 'R 100',
    PIPES: 'P R J 100 1 150 0.5 Open\nQ J K 50 0.57 140',
    OPTIONS: 'Units GPM\nHeadloss H-W',
    ...parts,
  };
  return `${Object.entries(sections)
    .map(([name, text]) => `[${name}]\n${text}`)
    .join('\n')}\n[END]\n`;
};
const read = (text: string, profile: 'epanet' | 'own' = 'own') => {
  const outcome = readInp(text, { fileName: 'garden.inp', profile });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
};
const refuse = (text: string) => {
  const outcome = readInp(text, { fileName: 'garden.inp' });
  if (outcome.ok) throw new Error('was read');
  return outcome.problems;
};

describe('an EPANET file is read', () => {
  it('in US units: feet, inches, gpm, psi', () => {
    const { network } = read(base({ EMITTERS: 'J 0.5', JUNCTIONS: 'J 10 0\nK 5 2' }));
    const [junction, second, reservoir] = network.nodes;
    expect(junction!.elevationM).toBeCloseTo(3.048, 12);
    expect(second!.demandM3s).toBeCloseTo((2 * 3.785411784e-3) / 60, 15);
    expect(reservoir!.fixedHeadM).toBeCloseTo(30.48, 12);
    // 0.5 gpm at 1 psi, which is 0.703070 m of water.
    expect(junction!.emitter).toMatchObject({ kind: 'power', exponent: 0.5 });
    const { emitter } = junction!;
    if (emitter?.kind !== 'power') throw new Error('no power law');
    expect(emitter.nominalFlowM3s).toBeCloseTo((0.5 * 3.785411784e-3) / 60, 15);
    expect(emitter.nominalHeadM).toBeCloseTo(0.70307, 5);
    const [first, last] = network.links;
    expect(first).toMatchObject({ kind: 'pipe', lossK: 0.5, friction: { kind: 'hazen-williams', c: 150 } });
    if (last?.kind !== 'pipe') throw new Error('no pipe');
    expect(last.insideDiameterM).toBeCloseTo(0.57 * 0.0254, 12);
    expect(last.lengthM).toBeCloseTo(15.24, 12);
  });

  it('in SI units: metres, millimetres, L/min, roughness in millimetres', () => {
    const { network } = read(
      base({
        OPTIONS: 'UNITS lpm\nHEADLOSS D-W\nViscosity 1.2',
        PIPES: 'P R J 100 25 0.0015\nQ J K 50 13.6 0.0015',
      }),
    );
    const [pipe] = network.links;
    if (pipe?.kind !== 'pipe') throw new Error('no pipe');
    expect(pipe.insideDiameterM).toBeCloseTo(0.025, 12);
    expect(pipe.friction).toEqual({
      kind: 'darcy-weisbach',
      absoluteRoughnessM: 1.5e-6,
      turbulent: 'swamee-jain',
    });
    expect(network.nodes[1]!.demandM3s).toBeCloseTo(2e-3 / 60, 15);
    // EPANET's water is 1.1e-5 ft2/s.
    expect(network.kinematicViscosityM2s).toBeCloseTo(1.2 * 1.1e-5 * 0.3048 ** 2, 15);
  });

  it('with every flow unit it may name', () => {
    // m3/s of one unit by definition; the imperial gallon is 4.54609 L, the acre-foot 43 560 ft3.
    const units = {
      CFS: 0.028316846592,
      GPM: 6.30901964e-5,
      MGD: 0.0438126363889,
      IMGD: 0.0526167824,
      AFD: 0.0142764,
      LPS: 1e-3,
      LPM: 1e-3 / 60,
      MLD: 1000 / 86400,
      CMH: 1 / 3600,
      CMD: 1 / 86400,
    };
    for (const [unit, m3s] of Object.entries(units))
      for (const profile of ['own', 'epanet'] as const) {
        const { network } = read(base({ OPTIONS: `Units ${unit}` }), profile);
        expect(network.nodes[1]!.demandM3s! / 2 / m3s).toBeCloseTo(1, profile === 'own' ? 5 : 3);
      }
  });

  it('with pressure-driven demands, and with an emitter beside one', () => {
    const options =
      'Units LPM\nDemand Model PDA\nMinimum Pressure 2\nRequired Pressure 10\nPressure Exponent 0.6';
    const { network, outlets } = read(base({ OPTIONS: options, EMITTERS: 'K 0.3' }));
    expect(network.nodes[1]!.emitter?.kind).toBe('power');
    expect(outlets).toHaveLength(1);
    expect(outlets[0]!.law).toMatchObject({
      kind: 'compensating',
      thresholdHeadM: 10,
      openHeadM: 2,
      belowExponent: 0.6,
    });
  });

  it('with valves, curves and statuses', () => {
    const { network } = read(
      base({
        JUNCTIONS: 'J 10 0\nK 5 2\nL 5 0\nM 5 0',
        PIPES: 'P R J 100 1 150\nQ M K 50 0.57 140 Closed',
        VALVES: 'V J L 1 PRV 25 2\nG L M 1 GPV C1 0',
        CURVES: 'C1 0 0\nC1 10 5\nC1 20 15',
        STATUS: 'Q Open',
      }),
    );
    expect(network.links.map((link) => link.kind)).toEqual(['pipe', 'pipe', 'regulator', 'device']);
    expect(network.links[1]!.isClosed).toBe(false);
    const [, , regulator, device] = network.links;
    if (regulator?.kind !== 'regulator' || device?.kind !== 'device') throw new Error('kinds');
    expect(regulator.setHeadM).toBeCloseTo(25 * 0.70307, 3);
    expect(device.loss).toMatchObject({ kind: 'points' });
  });

  it('whatever the case of its words, the ends of its lines and the comments in it', () => {
    const text = base({}).replaceAll('\n', '\r\n').replace('[PIPES]', '[pipes] ; as surveyed');
    expect(read(text).network.links).toHaveLength(2);
  });

  it('but only its first moment, and says so', () => {
    const outcome = readInp(base({ TIMES: 'Duration 24:00\nHydraulic Timestep 1:00' }), {
      fileName: 'garden.inp',
    });
    expect(outcome.ok).toBe(true);
    expect(outcome.problems.map(({ code }) => code)).toEqual(['exchange.inp-one-moment']);
  });
});

describe('what would change the answer is refused by name and line', () => {
  const cases: readonly (readonly [string, Readonly<Record<string, string>>, string])[] = [
    ['a pump', { PUMPS: 'PU R J HEAD 1' }, 'inp-refuses-section'],
    ['a tank', { TANKS: 'T 10 5 0 10 50 0' }, 'inp-refuses-section'],
    ['patterns', { PATTERNS: '1 1.0 1.2' }, 'inp-refuses-section'],
    ['rules', { RULES: 'RULE 1' }, 'inp-refuses-section'],
    ['controls', { CONTROLS: 'LINK P CLOSED AT TIME 5' }, 'inp-refuses-section'],
    ['a demand pattern', { JUNCTIONS: 'J 10 0\nK 5 2 night' }, 'inp-refuses-pattern'],
    ['a throttle valve', { VALVES: 'V J K 1 TCV 3 0' }, 'inp-refuses-valve'],
    ['a check-valve pipe', { PIPES: 'P R J 100 1 150 0 CV\nQ J K 50 0.57 140' }, 'inp-refuses-check-valve'],
    ['Chezy-Manning', { OPTIONS: 'Headloss C-M' }, 'inp-refuses-option'],
    ['an unknown option', { OPTIONS: 'Gravity 9.81' }, 'inp-refuses-option'],
    ['an unknown unit', { OPTIONS: 'Units buckets' }, 'inp-bad-unit'],
    ['a length that is no number', { PIPES: 'P R J long 1 150\nQ J K 50 0.57 140' }, 'inp-bad-number'],
    ['a line cut short', { PIPES: 'P R J 100\nQ J K 50 0.57 140' }, 'inp-too-short'],
    ['a pipe to nowhere', { PIPES: 'P R J 100 1 150\nQ J Z 50 0.57 140' }, 'inp-unknown-id'],
    ['an emitter nowhere', { EMITTERS: 'Z 0.5' }, 'inp-unknown-id'],
    ['a valve without its curve', { VALVES: 'G J K 1 GPV C9 0' }, 'inp-unknown-id'],
    ['a junction named twice', { JUNCTIONS: 'J 10 0\nJ 5 2\nK 1 0' }, 'inp-double-id'],
  ];

  for (const [words, parts, code] of cases)
    it(words, () => {
      const problems = refuse(base(parts));
      const found = problems.find((problem) => problem.code === `exchange.${code}`);
      expect(found, JSON.stringify(problems)).toBeDefined();
      expect(found!.where.file).toBe('garden.inp');
      expect(found!.where.line).toBeGreaterThan(0);
      for (const problem of problems) expect(sentenceOf(problem.code)).not.toBeNull();
    });

  it('every problem at once, each with its line', () => {
    const problems = refuse(base({ PUMPS: 'PU R J HEAD 1', PIPES: 'P R J x 1 150\nQ J K 50 y 140' }));
    expect(problems.map(({ where }) => where.line)).toHaveLength(3);
    expect(new Set(problems.map(({ where }) => where.line)).size).toBe(3);
  });

  it('a file that is something else', () => {
    expect(refuse('{"type": "FeatureCollection"}')[0]!.code).toBe('exchange.inp-not-a-network');
    expect(refuse('')[0]!.code).toBe('exchange.inp-not-a-network');
    expect(refuse('[JUNCTIONS]\n[END]').map(({ code }) => code)).toContain('exchange.inp-no-nodes');
  });
});
