import { describe, expect, it } from 'vitest';
import type { Dripline } from '../../../src/core/catalog';
import {
  diagnose,
  emissionUniformity,
  emitterRange,
  flushTogether,
  type Network,
  type NetworkLink,
  openOutletLaw,
  prepareNetwork,
  requiredSourceHeadM,
  runLimitM,
  runNetwork,
  solveAtRest,
  solveFlushing,
  solveNetwork,
} from '../../../src/core/hydraulics';
import published from '../../reference/hydraulics/supply.json';
import { compensatingDripper, orificeDripper, smoothTubing, testNetwork } from './ladders';

const PSI_M = 0.70307;
const GPM_M3S = 3.785411784e-3 / 60;
const dripline = (changed: Partial<Dripline> = {}): Dripline => ({
  kind: 'dripline',
  id: 'typical',
  name: 'Typical tubing of these tests',
  source: { text: 'typical', standing: 'typical' },
  emitterFlowM3s: 1.6e-3 / 3600,
  emitterSpacingM: 0.3048,
  insideDiameterM: 0.0145,
  outsideDiameterM: 0.017,
  minBendRadiusM: 0.15,
  emitter: orificeDripper,
  emitterLossK: 0.5,
  absoluteRoughnessM: 1.5e-6,
  rollLengthsM: [100],
  checkValve: false,
  flushVelocityMs: 0.3,
  ...changed,
});
const limitInput = {
  dripline: dripline(),
  inletHeadM: 15,
  slopeRatio: 0,
  uniformityRatio: 0.9,
  shape: 'single',
} as const;

describe('the longest run', () => {
  it('holds the wanted uniformity, and one emitter more does not', () => {
    for (const shape of ['single', 'loop'] as const) {
      const limit = runLimitM({ ...limitInput, shape });
      const uniformity = (emitterCount: number) => {
        const network = runNetwork({
          dripline: dripline(),
          shape,
          emitterCount,
          inletHeadM: 15,
          slopeRatio: 0,
          kinematicViscosityM2s: 1.004e-6,
        });
        const flows = solveNetwork(network).outflowM3s.filter((_, i) => i > 0);
        return emissionUniformity(flows, 0.03);
      };
      expect(limit.limitedBy).toBe('uniformity');
      expect(uniformity(limit.emitterCount)).toBeGreaterThanOrEqual(0.9);
      expect(uniformity(limit.emitterCount + 1)).toBeLessThan(0.9);
      expect(limit.lengthM).toBeCloseTo(limit.emitterCount * 0.3048, 9);
      expect(limit.uniformityRatio).toBeCloseTo(uniformity(limit.emitterCount), 9);
    }
  });

  it('agrees with a march emitter by emitter from the far end, worked apart from the solver', () => {
    // Dead end, flat: from an end head upward, add each emitter flow and each segment loss (laminar, blend skipped by
    // marching with the same factor laws written out here: 64/Re to 2 000, Swamee-Jain from 4 000, cubic between).
    const limit = runLimitM(limitInput);
    const march = (endHeadM: number) => {
      let headM = endHeadM;
      let flow = 0;
      const flows: number[] = [];
      for (let i = 0; i < limit.emitterCount; i++) {
        const q = (1.6e-3 / 3600) * Math.sqrt(headM / 10);
        flows.push(q);
        flow += q;
        headM += segmentLossM(flow, i === limit.emitterCount - 1 ? 0.1524 : 0.3048);
      }
      return { headM, flows };
    };
    let low = 1;
    let high = 15;
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2;
      if (march(middle).headM > 15) high = middle;
      else low = middle;
    }
    expect(emissionUniformity(march(low).flows, 0.03)).toBeCloseTo(limit.uniformityRatio, 5);
  });

  it('of a loop is well over twice that of a dead end, because each leg carries half', () => {
    const single = runLimitM(limitInput);
    const loop = runLimitM({ ...limitInput, shape: 'loop' });
    expect(loop.lengthM / single.lengthM).toBeGreaterThan(1.9);
    expect(loop.lengthM / single.lengthM).toBeLessThan(2.1);
  });

  it('of compensating tubing ends where the last emitter falls below its threshold', () => {
    const tubing = dripline({ emitter: compensatingDripper });
    const limit = runLimitM({ ...limitInput, dripline: tubing });
    expect(limit.limitedBy).toBe('pressure');
    const network = runNetwork({
      dripline: tubing,
      shape: 'single',
      emitterCount: limit.emitterCount,
      inletHeadM: 15,
      slopeRatio: 0,
      kinematicViscosityM2s: 1.004e-6,
    });
    const lowest = Math.min(...solveNetwork(network).headM);
    expect(lowest).toBeGreaterThanOrEqual(7);
    expect(lowest).toBeLessThan(7.2);
  });

  it('shortens uphill, lengthens with more pressure, and is nothing where the inlet is too low', () => {
    const flat = runLimitM(limitInput).lengthM;
    expect(runLimitM({ ...limitInput, slopeRatio: 0.03 }).lengthM).toBeLessThan(flat);
    expect(runLimitM({ ...limitInput, inletHeadM: 25 }).lengthM).toBeGreaterThan(flat);
    const tooLow = runLimitM({ ...limitInput, inletHeadM: 2 });
    expect(tooLow).toMatchObject({ lengthM: 0, limitedBy: 'pressure' });
  });

  it('says so where the emitters as made are too uneven for the wanted uniformity at any length', () => {
    const uneven = dripline({ emitter: { ...orificeDripper, variationCv: 0.1 } });
    const limit = runLimitM({ ...limitInput, dripline: uneven });
    expect(limit.isVariationTooWide).toBe(true);
    expect(limit.lengthM).toBeGreaterThan(10);
    expect(limit.uniformityRatio).toBeLessThan(0.9);
  });

  it('stops at the velocity asked for', () => {
    const limit = runLimitM({ ...limitInput, inletHeadM: 30, uniformityRatio: 0.5, velocityLimitMs: 0.5 });
    expect(limit.limitedBy).toBe('velocity');
  });
});

function segmentLossM(flow: number, lengthM: number): number {
  const boreM = 0.0145;
  const velocity = (4 * flow) / (Math.PI * boreM ** 2);
  const re = (velocity * boreM) / 1.004e-6;
  const turbulent = (r: number) => 0.25 / Math.log10(1.5e-6 / boreM / 3.7 + 5.74 / r ** 0.9) ** 2;
  let factor = 64 / re;
  if (re >= 4000) factor = turbulent(re);
  else if (re > 2000) {
    const end = turbulent(4000);
    const endSlope = (turbulent(4001) - turbulent(3999)) / 2;
    const t = (re - 2000) / 2000;
    const [h00, h10] = [(1 + 2 * t) * (1 - t) ** 2, t * (1 - t) ** 2];
    const [h01, h11] = [t * t * (3 - 2 * t), t * t * (t - 1)];
    factor = h00 * 0.032 + h10 * 2000 * (-64 / 2000 ** 2) + h01 * end + h11 * 2000 * endSlope;
  }
  return ((factor * lengthM) / boreM + 0.5) * (velocity ** 2 / (2 * 9.80665));
}

describe('flushing', () => {
  it('asks the printed flows: 1 gpm in 5/8 in and 2 gpm in 7/8 in tube run at 1 ft/s', () => {
    for (const { exact, dia_in, gpm } of published.flushing.published) {
      const inches = dia_in === '5/8' ? 0.625 : 0.875;
      // 1 ft/s through the bore, by hand: V x pi d^2 / 4.
      const flow = 0.3048 * ((Math.PI * (inches * 0.0254) ** 2) / 4);
      expect(flow / GPM_M3S).toBeCloseTo(exact, 3);
      expect(Math.round(flow / GPM_M3S)).toBe(gpm);
    }
  });

  it('an open end gives q = A sqrt(2 g h / (1 + K))', () => {
    // 14.5 mm bore, 4 m, K 1: 1.6513e-4 m2 x sqrt(2 x 9.80665 x 4 / 2) = 1.0342e-3 m3/s by hand.
    const law = openOutletLaw({ outletDiameterM: 0.0145, outletLossK: 1 });
    const nominal = law.kind === 'power' ? law.nominalFlowM3s : 0;
    expect(nominal * 2).toBeCloseTo(1.0342e-3, 6);
  });

  const loop = testNetwork({
    loops: [{ emitters: 101, spacingM: 0.3, riseM: 0, isClosed: true }],
    sourceHeadM: 20,
    trunkLengthM: 5,
    emitter: orificeDripper,
    tubing: smoothTubing,
    trunk: smoothTubing,
    emitterLossK: 0.5,
  });
  const middle = { nodeId: 'e-0-51', outletDiameterM: 0.0145, outletLossK: 1 };

  it('at the middle of a loop draws both legs alike, fast enough to carry grit', () => {
    const [state] = solveFlushing(prepareNetwork(loop), [middle]);
    expect(state!.legs).toHaveLength(2);
    expect(state!.legs[0]!.velocityMs).toBeCloseTo(state!.legs[1]!.velocityMs, 6);
    expect(state!.endVelocityMs).toBeGreaterThan(0.3048);
    const brought = state!.legs.reduce((sum, leg) => sum + leg.velocityMs * ((Math.PI * 0.0145 ** 2) / 4), 0);
    // What the legs bring leaves by the open end and by the emitter that sits there.
    expect(Math.abs(brought - state!.solution.outflowM3s[52]!)).toBeLessThan(1e-9);
    expect(state!.flowM3s).toBeLessThan(brought);
  });

  it('off the middle runs slower in the longer leg', () => {
    const [state] = solveFlushing(prepareNetwork(loop), [{ ...middle, nodeId: 'e-0-20' }]);
    const [near, far] = state!.legs.map((leg) => leg.velocityMs);
    expect(near).toBeGreaterThan(far!);
    expect(state!.endVelocityMs).toBe(far);
  });

  it('counts how many points may stand open at once', () => {
    const zone = testNetwork({
      loops: Array.from({ length: 4 }, () => ({ emitters: 60, spacingM: 0.3, riseM: 0, isClosed: true })),
      sourceHeadM: 12,
      trunkLengthM: 10,
      emitter: orificeDripper,
      tubing: smoothTubing,
      trunk: smoothTubing,
      emitterLossK: 0.5,
    });
    const points = [0, 1, 2, 3].map((k) => ({
      nodeId: `e-${k}-30`,
      outletDiameterM: 0.0145,
      outletLossK: 1,
    }));
    const prepared = prepareNetwork(zone);
    const together = flushTogether(prepared, points, 1.6);
    expect(together).toBeGreaterThan(0);
    expect(together).toBeLessThan(4);
    expect(flushTogether(prepared, points, 0.05)).toBe(4);
    expect(flushTogether(prepared, points, 9)).toBe(0);
  });
});

describe('what the source must give', () => {
  const zone = testNetwork({
    loops: [{ emitters: 60, spacingM: 0.3, riseM: 1.5, isClosed: true }],
    sourceHeadM: 20,
    trunkLengthM: 25,
    emitter: compensatingDripper,
    tubing: smoothTubing,
    trunk: smoothTubing,
    emitterLossK: 0.5,
  });

  it('brings the worst emitter just to its least head', () => {
    const required = requiredSourceHeadM(zone, 'source')!;
    const at = (fixedHeadM: number): Network => ({
      ...zone,
      nodes: zone.nodes.map((node) => (node.id === 'source' ? { ...node, fixedHeadM } : node)),
    });
    const worst = (network: Network) => {
      const { headM } = solveNetwork(network);
      return Math.min(
        ...network.nodes.map((node, i) => (node.emitter === undefined ? 99 : headM[i]! - node.elevationM)),
      );
    };
    expect(worst(at(required))).toBeCloseTo(7, 2);
    expect(emitterRange(compensatingDripper, worst(at(required - 0.01)))).toBe('below');
  });

  it('is nothing that exists where the bed lies too high', () => {
    expect(requiredSourceHeadM(zone, 'source', 5)).toBeNull();
  });

  it('at rest every part stands at the head of the source', () => {
    expect([...solveAtRest(zone).headM].every((headM) => Math.abs(headM - 20) < 1e-6)).toBe(true);
  });
});

describe('a pressure read in the field', () => {
  const device = (
    id: string,
    from: string,
    to: string,
    kind: 'valve' | 'filter',
    kSI: number,
  ): NetworkLink => ({
    kind: 'device',
    id,
    device: kind,
    from,
    to,
    loss: { kind: 'quadratic', kSI, offsetM: 0 },
  });
  const inner = testNetwork({
    loops: [{ emitters: 250, spacingM: 0.3, riseM: 0, isClosed: true }],
    sourceHeadM: 0,
    trunkLengthM: 10,
    emitter: orificeDripper,
    tubing: smoothTubing,
    trunk: smoothTubing,
    emitterLossK: 0.5,
  });
  const network: Network = {
    ...inner,
    nodes: [
      { id: 'mains', elevationM: 0, fixedHeadM: 24 },
      ...['v', 'f', 'header'].map((id) => ({ id, elevationM: 0 })),
      ...inner.nodes.filter(({ id }) => id !== 'source'),
    ],
    links: [
      device('valve', 'mains', 'v', 'valve', 5e7),
      device('filter', 'v', 'f', 'filter', 6e7),
      {
        kind: 'regulator',
        id: 'regulator',
        from: 'f',
        to: 'header',
        setHeadM: 17.6,
        droop: 0,
        loss: { kind: 'quadratic', kSI: 0, offsetM: 0 },
        minInletHeadM: 19,
      },
      ...inner.links.map((link) => (link.from === 'source' ? { ...link, from: 'header' } : link)),
    ],
  };
  const reading = (measuredHeadM: number) => ({
    network,
    nodeId: 'e-0-125',
    measuredHeadM,
    toleranceM: 2 * PSI_M,
    loadedFilters: new Map([['filter', { kind: 'quadratic', kSI: 9e8, offsetM: 0 } as const]]),
    cuts: [10, 125, 240].map((i) => ({ nodeId: `e-0-${i}`, outletDiameterM: 0.0145 })),
    otherSettingsM: [10.5, 14.1, 17.6, 21.1, 28.1],
  });
  const expected = diagnose(reading(0))!.expectedHeadM;
  const headWith = (id: string, changed: Partial<NetworkLink>) => {
    const links = network.links.map((link) =>
      link.id === id ? ({ ...link, ...changed } as NetworkLink) : link,
    );
    return solveNetwork({ ...network, links }).headM[network.nodes.findIndex((n) => n.id === 'e-0-125')]!;
  };

  it('near the plan agrees', () => {
    expect(diagnose(reading(expected - 1))).toMatchObject({ agrees: true, causes: [] });
  });

  it('of a zone with a loaded filter names the filter first', () => {
    const measured = headWith('filter', { loss: { kind: 'quadratic', kSI: 9e8, offsetM: 0 } } as never);
    const { causes, agrees } = diagnose(reading(measured))!;
    expect(agrees).toBe(false);
    expect(causes[0]).toMatchObject({ code: 'hydraulics.cause-loaded-filter', id: 'filter' });
    expect(Math.abs(causes[0]!.missM)).toBeLessThan(1e-4);
  });

  it('of a zone with a half-shut valve names the valve', () => {
    const measured = headWith('valve', { loss: { kind: 'quadratic', kSI: 30 * 5e7, offsetM: 0 } } as never);
    const { causes } = diagnose(reading(measured))!;
    expect(causes[0]).toMatchObject({ code: 'hydraulics.cause-valve-half-shut', id: 'valve', amount: 30 });
  });

  it('of a zone with the wrong regulator names its setting', () => {
    const measured = headWith('regulator', { setHeadM: 10.5, minInletHeadM: 11.9 } as never);
    const { causes } = diagnose(reading(measured))!;
    expect(causes[0]).toMatchObject({ code: 'hydraulics.cause-wrong-regulator', amount: 10.5 });
  });

  it('of a zone with a cut run names a cut', () => {
    const cut = { nodeId: 'e-0-10', outletDiameterM: 0.0145, outletLossK: 0 };
    const [state] = solveFlushing(prepareNetwork(network), [cut]);
    const measured = state!.solution.headM[network.nodes.findIndex((n) => n.id === 'e-0-125')]!;
    const { causes } = diagnose(reading(measured))!;
    expect(causes[0]).toMatchObject({ code: 'hydraulics.cause-cut-run', id: 'e-0-10' });
  });

  it('only lists causes that explain it better than the plan, nearest first', () => {
    const { causes, expectedHeadM } = diagnose(reading(expected - 6))!;
    const misses = causes.map((cause) => Math.abs(cause.missM));
    expect([...misses].sort((a, b) => a - b)).toEqual(misses);
    expect(Math.max(...misses)).toBeLessThan(Math.abs(expectedHeadM - (expected - 6)));
  });
});
