import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readInp, writeZoneInp } from '../../../src/core/exchange';
import {
  type Network,
  type NetworkLink,
  prepareNetwork,
  seededRandom,
  solveNetwork,
  solvePrepared,
  withFigures,
} from '../../../src/core/hydraulics';
import { askEngine } from '../../reference/hydraulics/engine';
import { gridInp, gridOf } from '../../reference/hydraulics/grids';
import { compensatingDripper, hazen, orificeDripper, smoothTubing, testNetwork } from '../hydraulics/ladders';

/** Greatest differences between our solution of a file and EPANET's, in metres and as a share of all flow. */
async function compareWithEngine(text: string) {
  const engine = await askEngine(text);
  const outcome = readInp(text, { fileName: 'zone.inp' });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  const { network, constants, outlets } = outcome.value;
  const solution = solvePrepared(withFigures(prepareNetwork(network, constants), network, outlets));
  const isUs = /units\s+gpm/i.test(text);
  const lengthM = isUs ? 0.3048 : 1;
  // EPANET counts 448.831 gpm or 1699 L/min in a cubic foot a second; read in its source.
  const flowM3s = 0.3048 ** 3 / (isUs ? 448.831 : 1699);
  let worstHeadM = 0;
  let worstOutflowM3s = 0;
  let worstEmitterRatio = 0;
  let totalM3s = 0;
  let engineTotalM3s = 0;
  network.nodes.forEach((node, i) => {
    worstHeadM = Math.max(worstHeadM, Math.abs(solution.headM[i]! - engine.head.get(node.id)! * lengthM));
    const outflow = engine.outflow.get(node.id)! * flowM3s;
    if (node.fixedHeadM !== undefined) return;
    worstOutflowM3s = Math.max(worstOutflowM3s, Math.abs(solution.outflowM3s[i]! - outflow));
    if (outflow > 1e-8)
      worstEmitterRatio = Math.max(worstEmitterRatio, Math.abs(solution.outflowM3s[i]! / outflow - 1));
    totalM3s += solution.outflowM3s[i]!;
    engineTotalM3s += outflow;
  });
  let worstLinkM3s = 0;
  network.links.forEach((link, i) => {
    const theirs = engine.flow.get(link.id)! * flowM3s;
    worstLinkM3s = Math.max(worstLinkM3s, Math.abs(solution.flowM3s[i]! - theirs));
  });
  return {
    status: solution.status,
    worstHeadM,
    worstEmitterRatio,
    worstLinkRatio: worstLinkM3s / engineTotalM3s,
    totalRatio: Math.abs(totalM3s / engineTotalM3s - 1),
    engineTotalM3s,
  };
}

/** 0.0005 psi. */
const HEAD_TOLERANCE_M = 0.00035;

describe('networks laid out for this test, solved by us and by EPANET at once', () => {
  for (const headloss of ['H-W', 'D-W'] as const)
    it(`a grid of 9 laterals with 37 emitters under ${headloss}: every node and link`, async () => {
      const found = await compareWithEngine(gridInp(gridOf(9, 37, headloss)));
      expect(found.status).toBe('settled');
      expect(found.worstHeadM).toBeLessThan(HEAD_TOLERANCE_M);
      expect(found.worstEmitterRatio).toBeLessThan(1e-5);
      expect(found.worstLinkRatio).toBeLessThan(1e-5);
    });

  it('meshes of random pipes with two reservoirs, emitters, demands, closed pipes and local losses', async () => {
    const random = seededRandom(20260101);
    for (let round = 0; round < 12; round++) {
      const found = await compareWithEngine(randomMesh(random, round % 2 === 0 ? 'H-W' : 'D-W'));
      expect(found.status).toBe('settled');
      expect(found.worstHeadM).toBeLessThan(HEAD_TOLERANCE_M);
      expect(found.worstEmitterRatio).toBeLessThan(1e-5);
      expect(found.worstLinkRatio).toBeLessThan(1e-5);
    }
  });
});

/** A mesh of 5 x 6 junctions with random pipes, in US units. Pressures stay well above nothing. */
function randomMesh(random: () => number, headloss: 'H-W' | 'D-W'): string {
  const between = (low: number, high: number) => Number((low + (high - low) * random()).toFixed(4));
  const junctions: string[] = [];
  const emitters: string[] = [];
  const pipes: string[] = [];
  const id = (x: number, y: number) => `J${x}_${y}`;
  const pipe = (a: string, b: string, mayClose: boolean) => {
    const roughness = headloss === 'H-W' ? between(120, 150) : between(0.003, 0.1);
    const bore = between(0.5, 2);
    const status = mayClose && random() < 0.1 ? 'Closed' : 'Open';
    pipes.push(
      `P${pipes.length + 1} ${a} ${b} ${between(1, 60)} ${bore} ${roughness} ${between(0, 3)} ${status}`,
    );
  };
  for (let x = 0; x < 5; x++)
    for (let y = 0; y < 6; y++) {
      const isDemand = random() < 0.2;
      junctions.push(`${id(x, y)} ${between(-3, 6)} ${isDemand ? between(0.05, 0.6) : 0}`);
      if (!isDemand && random() < 0.6) emitters.push(`${id(x, y)} ${between(0.01, 0.12)}`);
      if (x > 0) pipe(id(x - 1, y), id(x, y), y > 0);
      if (y > 0) pipe(id(x, y - 1), id(x, y), x > 0);
    }
  pipe('R1', id(0, 0), false);
  pipe('R2', id(4, 5), false);
  return [
    '[JUNCTIONS]',
    ...junctions,
    '[RESERVOIRS]',
    `R1 ${between(120, 140)}`,
    `R2 ${between(110, 140)}`,
    '[PIPES]',
    ...pipes,
    '[EMITTERS]',
    ...emitters,
    '[OPTIONS]',
    'Units GPM',
    `Headloss ${headloss}`,
    'Trials 500',
    'Accuracy 1e-8',
    '[TIMES]',
    'Duration 0',
    '[REPORT]',
    'Status No',
    'Summary No',
    '[END]',
    '',
  ].join('\n');
}

const zoneSpec = {
  loops: [
    { emitters: 40, spacingM: 0.3, riseM: 0.5, isClosed: true },
    { emitters: 25, spacingM: 0.3, riseM: -0.4, isClosed: false },
  ],
  sourceHeadM: 25,
  trunkLengthM: 9,
  emitter: compensatingDripper,
  tubing: smoothTubing,
  trunk: smoothTubing,
  emitterLossK: 0.5,
};

/** A whole zone: two-point supply, meter, backflow preventer, valve, filter, regulator, header, runs. */
function wholeZone(changed: { setHeadM?: number; staticHeadM?: number } = {}): Network {
  const inner = testNetwork(zoneSpec);
  const staticHeadM = changed.staticHeadM ?? 42;
  const device = (
    id: string,
    from: string,
    to: string,
    kind: 'meter' | 'backflow' | 'valve' | 'filter',
    kSI: number,
    offsetM: number,
  ): NetworkLink => ({
    kind: 'device',
    id,
    device: kind,
    from,
    to,
    loss: { kind: 'quadratic', kSI, offsetM },
  });
  const chain = ['connection', 'm', 'b', 'v', 'f'];
  return {
    ...inner,
    nodes: [
      { id: 'mains', elevationM: 0, fixedHeadM: staticHeadM },
      ...chain.map((id) => ({ id, elevationM: 0 })),
      ...inner.nodes.filter(({ id }) => id !== 'source').map((node) => ({ ...node })),
      { id: 'header', elevationM: 0 },
    ],
    links: [
      {
        kind: 'supply',
        id: 'supply',
        from: 'mains',
        to: 'connection',
        curve: {
          kind: 'two-point',
          staticHeadM,
          residualHeadM: staticHeadM - 12,
          testFlowM3s: 6e-4,
          exponent: 1.85,
        },
      },
      device('meter', 'connection', 'm', 'meter', 6.6e6, 0),
      device('backflow', 'm', 'b', 'backflow', 2e6, 2.5),
      device('valve', 'b', 'v', 'valve', 8e6, 1),
      device('filter', 'v', 'f', 'filter', 9e6, 0),
      {
        kind: 'regulator',
        id: 'regulator',
        from: 'f',
        to: 'header',
        setHeadM: changed.setHeadM ?? 17.6,
        droop: 0,
        loss: { kind: 'quadratic', kSI: 0, offsetM: 0 },
        minInletHeadM: changed.setHeadM ?? 17.6,
      },
      ...inner.links.map((link) => (link.from === 'source' ? { ...link, from: 'header' } : link)),
    ],
  };
}

describe('a zone written as a network file', () => {
  const fileOf = (network: Network) =>
    writeZoneInp({ name: 'Zone 1', network, flowM3s: -solveNetwork(network).outflowM3s[0]! });

  it('is really solved by EPANET, and both solvers agree on every emitter of that same file', async () => {
    const found = await compareWithEngine(fileOf(wholeZone()));
    expect(found.engineTotalM3s).toBeGreaterThan(2.5e-5);
    expect(found.worstHeadM).toBeLessThan(HEAD_TOLERANCE_M);
    expect(found.worstEmitterRatio).toBeLessThan(1e-5);
  });

  it('says the same as our own finer model, to 0.1 % of flow and 0.05 psi at every emitter', async () => {
    const network = wholeZone();
    const engine = await askEngine(fileOf(network));
    const ours = solveNetwork(network);
    let total = 0;
    let engineTotal = 0;
    network.nodes.forEach((node, i) => {
      if (node.emitter === undefined) return;
      expect(Math.abs(ours.headM[i]! - engine.head.get(node.id)!)).toBeLessThan(0.035);
      total += ours.outflowM3s[i]!;
      // EPANET lets (h - required) / 1e9 ft3/s beyond full demand through: 9.29e-11 m3/s for each of these 7 m and more.
      const beyondM = Math.max(0, engine.pressure.get(node.id)! - 7);
      engineTotal += engine.outflow.get(node.id)! / 60_000 - 9.29e-11 * beyondM;
    });
    expect(Math.abs(total / engineTotal - 1)).toBeLessThan(1e-3);
  });

  it('with a regulator that stands open for want of pressure still agrees', async () => {
    const found = await compareWithEngine(fileOf(wholeZone({ staticHeadM: 16 })));
    expect(found.worstHeadM).toBeLessThan(HEAD_TOLERANCE_M);
    expect(found.worstEmitterRatio).toBeLessThan(1e-5);
  });

  it('with plain emitters becomes emitters of EPANET', async () => {
    const text = fileOf(testNetwork({ ...zoneSpec, emitter: orificeDripper }));
    expect(text).toMatch(/\[EMITTERS\][^[]*e-0-1 /);
    const found = await compareWithEngine(text);
    expect(found.worstHeadM).toBeLessThan(HEAD_TOLERANCE_M);
    expect(found.worstEmitterRatio).toBeLessThan(1e-5);
  });

  it('is Darcy-Weisbach throughout and says where the designing model is finer', () => {
    const text = fileOf(testNetwork({ ...zoneSpec, trunk: hazen(150) }));
    expect(text).toMatch(/Headloss D-W/);
    expect(text).toMatch(/^; .*Hazen-Williams.*0\.0015 mm/m);
    expect(text).toMatch(/^; .*compensating.*no plateau slope/m);
    expect(text).toMatch(/^; Together .* differ by -?0\.\d\d % in flow and by at most 0\.\d\d m/m);
  });

  it('is the same file twice', () => {
    expect(fileOf(wholeZone())).toBe(fileOf(wholeZone()));
  });

  it('numbers ids that EPANET would not take', () => {
    const network = wholeZone();
    const long = 'bed 1; run "A"';
    const nodes = network.nodes.map((node) => (node.id === 'tee-0' ? { ...node, id: long } : node));
    const links = network.links.map((link) => ({
      ...link,
      from: link.from === 'tee-0' ? long : link.from,
      to: link.to === 'tee-0' ? long : link.to,
    }));
    const text = fileOf({ ...network, nodes, links });
    expect(text).not.toContain(long);
    expect(readInp(text, { fileName: 'zone.inp' }).ok).toBe(true);
  });

  it('comes back from our own reader as the network it was, whatever the zone', () => {
    const loops = fc.array(
      fc.record({
        emitters: fc.integer({ min: 1, max: 30 }),
        spacingM: fc.double({ min: 0.2, max: 0.6, noNaN: true }),
        riseM: fc.double({ min: -2, max: 2, noNaN: true }),
        isClosed: fc.boolean(),
      }),
      { minLength: 1, maxLength: 3 },
    );
    fc.assert(
      fc.property(loops, fc.constantFrom(compensatingDripper, orificeDripper), (drawn, emitter) => {
        const network = testNetwork({ ...zoneSpec, loops: drawn, emitter });
        const outcome = readInp(fileOf(network), { fileName: 'zone.inp', profile: 'own' });
        if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
        const ours = solveNetwork(network);
        const back = solveNetwork(outcome.value.network);
        const at = new Map(outcome.value.network.nodes.map((node, i) => [node.id, i]));
        network.nodes.forEach((node, i) => {
          expect(Math.abs(back.headM[at.get(node.id)!]! - ours.headM[i]!)).toBeLessThan(1e-4);
        });
      }),
      { numRuns: 20 },
    );
  });
});
