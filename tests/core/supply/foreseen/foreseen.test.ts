import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../../src/core/catalog';
import { readInp, writeZoneInp } from '../../../../src/core/exchange';
import {
  coefficientOfVariation,
  emitterFlowM3s,
  seededRandom,
  solveNetwork,
  uniformityByTrial,
} from '../../../../src/core/hydraulics';
import type { Plan } from '../../../../src/core/plan';
import {
  buildTolerance,
  designSupply,
  differ,
  type Fault,
  faultFingerprints,
  faultsOf,
  foundPressure,
  isTooLargeToTry,
  rankFaults,
  type Zone,
} from '../../../../src/core/supply';
import { askEngine } from '../../../reference/hydraulics/engine';
import { PSI, planWithSource, servedBed, smallBed, withBed } from '../made';

const driplineNamed = (id: string) => typicalCatalog.driplines.find((one) => one.id === id)!;
const site: Plan = withBed(planWithSource({ x: -3, y: -2 }, { lowestStaticHeadM: null }), smallBed);

function zoneWith(driplineId: string, plan: Plan = site) {
  const bed = servedBed(plan, smallBed, { dripline: driplineNamed(driplineId) });
  const supply = designSupply({ plan, catalog: typicalCatalog, beds: [bed], quality: 'finished' });
  return { zone: supply.zones[0]!, layouts: [bed.layout] };
}

/** The zone solved cold with its source standing at a static pressure head. */
function solvedAt(zone: Zone, staticHeadM: number) {
  const nodes = zone.network.nodes.map((node) =>
    node.fixedHeadM === undefined ? node : { ...node, fixedHeadM: node.elevationM + staticHeadM },
  );
  return { nodes, solution: solveNetwork({ ...zone.network, nodes }) };
}

describe('the pressure a crew finds', () => {
  it('fails each limit where a sweep over source pressures says it fails', () => {
    const { zone } = zoneWith('dripline-pc-0.4gph-12in');
    const found = foundPressure(site, zone)!;
    const inletOf = (staticM: number): number => {
      const { nodes, solution } = solvedAt(zone, staticM);
      const at = nodes.findIndex(({ id }) => id === zone.readAt.regulatorInlet);
      return solution.headM[at]! - nodes[at]!.elevationM;
    };
    const leastOf = (staticM: number): number => {
      const { nodes, solution } = solvedAt(zone, staticM);
      return Math.min(
        ...nodes.flatMap(({ emitter, elevationM }, at) =>
          emitter ? [solution.headM[at]! - elevationM - emitter.minHeadM] : [],
        ),
      );
    };
    const sweep = (holds: (staticM: number) => boolean): number => {
      for (let centimetres = 0; centimetres < 12000; centimetres += 5)
        if (holds(centimetres / 100)) return centimetres / 100;
      return Number.NaN;
    };
    const limit = (code: string) => found.limits.find((one) => one.code === code)!.staticHeadM!;
    expect(
      Math.abs(limit('supply.found-emitters-short') - sweep((m) => leastOf(m) >= 0)),
    ).toBeLessThanOrEqual(0.06);
    const inletM = zone.assembly.regulatorMinInletHeadM;
    expect(
      Math.abs(limit('supply.found-regulator-open') - sweep((m) => inletOf(m) >= inletM)),
    ).toBeLessThanOrEqual(0.06);
  });

  it('is built as drawn at what it was drawn for, and never above 80 psi', () => {
    const { zone } = zoneWith('dripline-pc-0.4gph-12in');
    const found = foundPressure(site, zone)!;
    expect(found.asDrawnFromM).not.toBeNull();
    expect(found.asDrawnFromM!).toBeLessThanOrEqual(found.drawnForM);
    expect(found.expectFromM!).toBeLessThanOrEqual(found.asDrawnFromM!);
    // 80 psi: service limit of plumbing codes, held as a default of the job.
    expect(found.mostM / PSI).toBeCloseTo(80, 3);
  });

  it('counts what the mains fall in the season on top of every limit', () => {
    const measuredM = Object.values(site.sources)[0]!.staticHeadM!;
    const source = Object.values(site.sources)[0]!;
    const falling: Plan = {
      ...site,
      sources: { [source.id]: { ...source, lowestStaticHeadM: measuredM - 5 } },
    };
    const before = foundPressure(site, zoneWith('dripline-pc-0.4gph-12in').zone)!;
    const after = foundPressure(falling, zoneWith('dripline-pc-0.4gph-12in', falling).zone)!;
    expect(before.seasonFallM).toBe(0);
    expect(after.seasonFallM).toBeCloseTo(5, 9);
    const served = (f: typeof before) =>
      f.limits.find(({ code }) => code === 'supply.found-regulator-open')!.staticHeadM!;
    // The supply falls with flow as measured in both, so only the season differs (computed by hand: 5 m).
    expect(served(after) - served(before)).toBeCloseTo(5, 1);
  });
});

describe('building it as crews build', () => {
  it('agrees with the analytic statistical uniformity where only the emitters vary', () => {
    const { zone } = zoneWith('dripline-plain-0.6gph-12in');
    const cv = driplineNamed('dripline-plain-0.6gph-12in').emitter.variationCv;
    // Source: Bralts, independent parts add as squares: Us = 1 - sqrt(v^2 + Vq^2).
    const analytic = 1 - Math.hypot(cv, coefficientOfVariation(zone.emitters.flowM3s));
    const trial = uniformityByTrial(zone.emitters.flowM3s, cv, seededRandom(5), 400);
    expect(Math.abs(trial.statisticalUniformity.mean - analytic)).toBeLessThan(0.004);
    const still: Plan = {
      ...site,
      settings: { ...site.settings, builtLengthCvRatio: 0, supplyHeadCvRatio: 0 },
    };
    const sameLoss: Zone = {
      ...zone,
      assembly: { ...zone.assembly, filterLossLoaded: zone.assembly.filterLossClean },
    };
    const tolerance = buildTolerance(still, sameLoss)!;
    expect(Math.abs(tolerance.statisticalUniformity.mean - analytic)).toBeLessThan(0.004);
    expect(tolerance.marginM.low).toBeCloseTo(tolerance.marginM.high, 6);
  });

  it('is not tried for a zone of an acre: hundreds of solves of it would hold its sheet up', () => {
    const { zone } = zoneWith('dripline-pc-0.4gph-12in');
    expect(buildTolerance(site, zone)).not.toBeNull();
    const longer = (count: number): Zone => {
      const pipe = zone.network.links.find((link) => link.kind === 'pipe')!;
      const last = zone.network.nodes.at(-1)!;
      const ids = [last.id, ...Array.from({ length: count }, (_, index) => `further-${index}`)];
      const nodes = ids.slice(1).map((id) => ({ id, elevationM: last.elevationM }));
      const links = ids.slice(1).map((id, index) => ({ ...pipe, id: `to-${id}`, from: ids[index]!, to: id }));
      const network = {
        ...zone.network,
        nodes: [...zone.network.nodes, ...nodes],
        links: [...zone.network.links, ...links],
      };
      return { ...zone, network, solution: solveNetwork(network) };
    };
    expect(isTooLargeToTry(longer(10))).toBe(false);
    expect(buildTolerance(site, longer(10))).not.toBeNull();
    expect(isTooLargeToTry(longer(4001))).toBe(true);
    expect(buildTolerance(site, longer(4001))).toBeNull();
    expect(foundPressure(site, longer(4001))).toBeNull();
  });

  it('gives the same figures for the same zone, and fewer good builds on weaker mains', () => {
    const { zone } = zoneWith('dripline-pc-0.4gph-12in');
    expect(buildTolerance(site, zone)).toEqual(buildTolerance(site, zone));
    const found = foundPressure(site, zone)!;
    const source = Object.values(site.sources)[0]!;
    const weak: Plan = {
      ...site,
      sources: {
        [source.id]: {
          ...source,
          staticHeadM: found.expectFromM!,
          flowTestM3s: null,
          flowTestHeadM: null,
        },
      },
    };
    const sure = buildTolerance(site, zone)!;
    const unsure = buildTolerance(weak, zoneWith('dripline-pc-0.4gph-12in', weak).zone)!;
    expect(sure.servedRatio).toBe(1);
    expect(unsure.servedRatio).toBeLessThan(0.7);
    expect(unsure.errors[0]!.code).toMatch(/supply.error-(supply-low|filter-loaded)/);
    expect(unsure.bothRatio).toBeLessThanOrEqual(Math.min(unsure.servedRatio, unsure.uniformRatio));
  });

  it('lets a filter load up anywhere between clean and loaded, and no further', () => {
    const drawn = zoneWith('dripline-pc-0.4gph-12in').zone;
    const weakM = foundPressure(site, drawn)!.expectFromM! + 1;
    const weak: Zone = { ...drawn, network: { ...drawn.network, nodes: solvedAt(drawn, weakM).nodes } };
    const zone: Zone = { ...weak, solution: solveNetwork(weak.network) };
    const only: Plan = {
      ...site,
      settings: { ...site.settings, builtLengthCvRatio: 0, supplyHeadCvRatio: 0 },
    };
    const marginWith = (loss: typeof drawn.assembly.filterLossClean): number => {
      const links = zone.network.links.map((link) =>
        link.kind === 'device' && link.device === 'filter' ? { ...link, loss } : link,
      );
      const { headM } = solveNetwork({ ...zone.network, links });
      return Math.min(
        ...zone.network.nodes.flatMap(({ emitter, elevationM }, at) =>
          emitter ? [headM[at]! - elevationM - emitter.minHeadM] : [],
        ),
      );
    };
    const [cleanM, loadedM] = [
      marginWith(zone.assembly.filterLossClean),
      marginWith(zone.assembly.filterLossLoaded),
    ];
    const { marginM } = buildTolerance(only, zone)!;
    expect(cleanM - loadedM).toBeGreaterThan(0.05);
    expect(marginM.high).toBeLessThanOrEqual(cleanM + 1e-6);
    expect(marginM.low).toBeGreaterThanOrEqual(loadedM - 1e-6);
    // A filter loaded evenly at random: 9 builds of 10 lie within 0.9 of the way (its loss is straight in the loading).
    expect((marginM.high - marginM.low) / (cleanM - loadedM)).toBeCloseTo(0.9, 0.8);
  });

  it('answers first order as finite differences do, to 1e-4', () => {
    const { zone } = zoneWith('dripline-plain-0.6gph-12in');
    const weakM = zone.requiredSourceHeadM * 0.6;
    const weak: Zone = { ...zone, network: { ...zone.network, nodes: solvedAt(zone, weakM).nodes } };
    const solved: Zone = { ...weak, solution: solveNetwork(weak.network) };
    const tolerance = buildTolerance(site, solved, 1)!;
    const emitters = weak.network.nodes.flatMap(({ emitter }, at) => (emitter ? [at] : []));
    const spare = (staticM: number): number => {
      const { nodes, solution } = solvedAt(weak, staticM);
      return Math.min(...emitters.map((at) => solution.headM[at]! - nodes[at]!.elevationM));
    };
    const stepM = 1e-3;
    const numeric = (spare(weakM + stepM) - spare(weakM - stepM)) / (2 * stepM);
    expect(Math.abs(tolerance.perSourceHeadM / numeric - 1)).toBeLessThan(1e-4);
    const tubing = new Set(weak.tubing.pieces.map(({ linkId }) => linkId));
    const longer = (ratio: number): number => {
      const links = weak.network.links.map((link) =>
        link.kind === 'pipe' && tubing.has(link.id) ? { ...link, lengthM: link.lengthM * ratio } : link,
      );
      const solution = solveNetwork({ ...weak.network, links });
      return Math.min(...emitters.map((at) => solution.headM[at]! - weak.network.nodes[at]!.elevationM));
    };
    const byLength = (longer(1.001) - longer(0.999)) / 0.002;
    expect(Math.abs(tolerance.perLengthRatioM / byLength - 1)).toBeLessThan(1e-4);
  });
});

const noLoss = { kind: 'quadratic', kSI: 0, offsetM: 0 } as const;

describe('what each fault shows on a gauge', () => {
  const { zone, layouts } = zoneWith('dripline-pc-0.4gph-12in');
  const prints = faultFingerprints(zone, typicalCatalog, layouts)!;

  it('has every fault a crew may make', () => {
    expect([...new Set(prints.faults.map(({ code }) => code))].sort()).toEqual([
      'supply.fault-cut-run',
      'supply.fault-filter-loaded',
      'supply.fault-flush-open',
      'supply.fault-join-missing',
      'supply.fault-kink',
      'supply.fault-mains-low',
      'supply.fault-valve-closed',
      'supply.fault-wrong-regulator',
    ]);
    expect(prints.unsolved).toEqual([]);
  });

  const faults = faultsOf(zone, typicalCatalog, layouts);
  const changedPipe = (fault: Fault) => {
    const drawn = new Map(zone.network.links.map((link) => [link.id, link]));
    const changed = fault.network.links.filter((link) => link !== drawn.get(link.id));
    expect(changed).toHaveLength(1);
    const [link] = changed;
    const before = drawn.get(link!.id);
    if (link?.kind !== 'pipe' || before?.kind !== 'pipe') throw new Error('a pipe');
    return { addedK: link.lossK - before.lossK, at: fault.network.links.indexOf(link) };
  };

  it('kinks one piece at every turn the tubing makes, to a tenth of its bore', () => {
    const kinks = faults.filter(({ code }) => code === 'supply.fault-kink');
    // Eight rows (made.ts): seven turns at their ends, of two corners each, and the two corners of the return line.
    expect(kinks.length).toBe(16);
    // (1 / (0.61 x 0.1) - 1)^2 = 15.39^2 = 236.96, Borda-Carnot, computed by hand.
    for (const kink of kinks) expect(changedPipe(kink).addedK).toBeCloseTo(236.96, 1);
  });

  it('leaves a run unjoined at either end with next to nothing flowing there', () => {
    const missing = faults.filter(({ code }) => code === 'supply.fault-join-missing');
    expect(missing.length).toBe(2);
    for (const fault of missing) {
      const { at } = changedPipe(fault);
      const { flowM3s, status } = solveNetwork(fault.network);
      expect(status).toBe('settled');
      expect(Math.abs(flowM3s[at]!)).toBeLessThan(0.01 * Math.max(...flowM3s.map(Math.abs)));
    }
  });

  it('opens a cut run by both ends of its bore', () => {
    const cut = faults.find(({ code }) => code === 'supply.fault-cut-run')!;
    const { insideDiameterM } = driplineNamed('dripline-pc-0.4gph-12in');
    // Two bores at 10 m of head, the velocity head lost in the open: 2 x (pi / 4) d^2 sqrt(2 g x 10).
    const wanted = 2 * (Math.PI / 4) * insideDiameterM ** 2 * Math.sqrt(2 * 9.80665 * 10);
    expect(emitterFlowM3s(cut.outlets[0]!.law, 10)).toBeCloseTo(wanted, 9);
    expect(cut.alongM! / layouts[0]!.runs[0]!.lengthM).toBeCloseTo(0.25, 1.7);
  });

  it('reads the other setting behind a regulator picked wrongly', () => {
    const outlet = prints.points.findIndex(({ kind }) => kind === 'regulator-outlet');
    const wrong = prints.faults.filter(({ code }) => code === 'supply.fault-wrong-regulator');
    expect(wrong.length).toBeGreaterThan(0);
    // Less its droop at the zone's flow, which is under 2 psi.
    for (const { amount, headM } of wrong) expect(amount! - headM[outlet]!).toBeGreaterThanOrEqual(-1e-6);
    for (const { amount, headM } of wrong) expect(amount! - headM[outlet]!).toBeLessThan(2 * PSI);
  });

  it('picks first the place that tells most pairs apart, by counting all pairs at every place', () => {
    const states = [prints.soundHeadM, ...prints.faults.map(({ headM }) => headM)];
    const told = prints.points.map((_, point) => {
      let count = 0;
      for (let a = 0; a < states.length; a++)
        for (let b = 0; b < a; b++) if (differ(states[a]![point]!, states[b]![point]!)) count += 1;
      return count;
    });
    expect(told[prints.best[0]!]).toBe(Math.max(...told));
    expect(prints.toldApartRatio[1]!).toBeGreaterThanOrEqual(prints.toldApartRatio[0]!);
  });

  it('names a shut valve from two readings, and nothing where the zone reads as drawn', () => {
    const shut = prints.faults.find(({ code }) => code === 'supply.fault-valve-closed')!;
    const read = new Map(prints.best.map((point) => [point, shut.headM[point]!]));
    expect(rankFaults(prints, read)[0]!.fault.code).toBe('supply.fault-valve-closed');
    expect(rankFaults(prints, new Map(prints.best.map((p) => [p, prints.soundHeadM[p]!])))).toEqual([]);
    const outlet = prints.points.findIndex(({ kind }) => kind === 'regulator-outlet');
    expect(shut.headM[outlet]!).toBeLessThan(0.5);
  });

  /** An open end as a node of its own behind a hand's breadth of wide pipe, since a file has one emitter a node. */
  function asFileNetwork(fault: Fault) {
    const nodes = [...fault.network.nodes];
    const links = [...fault.network.links];
    fault.outlets.forEach(({ nodeId, law }, index) => {
      const at = nodes.find(({ id }) => id === nodeId)!;
      nodes.push({ id: `open${index}`, elevationM: at.elevationM, emitter: law });
      links.push({
        id: `stub${index}`,
        kind: 'pipe',
        from: nodeId,
        to: `open${index}`,
        lengthM: 0.01,
        insideDiameterM: 0.1,
        friction: { kind: 'hazen-williams', c: 150 },
        lossK: 0,
      });
    });
    return { ...fault.network, nodes, links };
  }

  it('shows the pressures a second engine gives for the same fault', async () => {
    const oneOfEach = faults.filter(
      ({ code }, index, all) => all.findIndex((other) => other.code === code) === index,
    );
    // A shut valve leaves the tubing without any source in a file: an engine has nothing to say of it.
    for (const fault of oneOfEach.filter(({ code }) => code !== 'supply.fault-valve-closed')) {
      const whole = asFileNetwork(fault);
      const print = prints.faults.find(
        ({ code, runId, alongM }) => code === fault.code && runId === fault.runId && alongM === fault.alongM,
      )!;
      // A file's regulator has no droop, no least inlet and no loss standing open, so both engines solve it without them.
      const plain = {
        ...whole,
        links: whole.links.map((link) =>
          link.kind === 'regulator'
            ? { ...link, droop: 0, minInletHeadM: link.setHeadM, loss: noLoss }
            : link,
        ),
      };
      const [own, ownPlain] = [solveNetwork(whole), solveNetwork(plain)];
      const flowM3s = ownPlain.outflowM3s.reduce((sum, flow) => sum + Math.max(0, flow), 0);
      const text = writeZoneInp({ name: 'fault', network: plain, flowM3s });
      expect(readInp(text, { fileName: 'fault.inp' }).ok).toBe(true);
      const engine = await askEngine(text);
      expect([own.status, ownPlain.status], fault.code).toEqual(['settled', 'settled']);
      const sourceHeadM = whole.nodes.find(({ fixedHeadM }) => fixedHeadM !== undefined)!.fixedHeadM!;
      prints.points.forEach(({ nodeId }, point) => {
        const at = whole.nodes.findIndex(({ id }) => id === nodeId);
        const { elevationM } = whole.nodes[at]!;
        // The open end sits behind a short wide pipe here, at the node itself there: under 1 cm of head.
        expect(Math.abs(print.headM[point]! - (own.headM[at]! - elevationM))).toBeLessThan(0.01);
        // 0.1 psi, and 2 % of the head lost on the way: the file's friction is Swamee-Jain, ours Blasius in the tubing and
        // Hazen-Williams in the pipe, which differ by that much at the flow of an open end.
        const lostM = sourceHeadM - engine.head.get(nodeId)!;
        expect(
          Math.abs(ownPlain.headM[at]! - engine.head.get(nodeId)!),
          `${fault.code} at ${nodeId}`,
        ).toBeLessThan(0.1 * PSI + 0.02 * lostM);
      });
    }
  });
});
