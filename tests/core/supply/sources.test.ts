import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { supplyHeadM } from '../../../src/core/hydraulics';
import type { Plan, Valve } from '../../../src/core/plan';
import { designSupply, highestStaticHeadM, modelSource } from '../../../src/core/supply';
import {
  FOOT,
  GPM,
  loamDripline,
  PSI,
  planWithSource,
  servedBed,
  smallBed,
  townSource,
  withBed,
} from './made';

const sourceAt = { x: -3, y: -2 };
const valve = (at: Valve['at'], elevationM: number): Plan['valves'] => ({
  v: { id: 'v', name: '', at, elevationM, zoneKey: null, assemblyId: null },
});
const zoneOf = (plan: Plan, changes: Parameters<typeof servedBed>[2] = {}) => {
  const beds = [servedBed(plan, smallBed, changes)];
  const design = designSupply({ plan, catalog: typicalCatalog, beds, quality: 'finished' });
  return { design, zone: design.zones[0]! };
};

describe('town water by a two-point test', () => {
  it('gives at another drop the flow of the hydrant-test relation', () => {
    const plan = withBed(planWithSource(sourceAt), smallBed);
    const { curve } = modelSource(plan, typicalCatalog);
    // NFPA 291: Qr = Qf (hr / hf)^0.54. 65 psi at rest, 55 at 10 gpm: a drop of 20 psi gives 10 x 2^0.54 = 14.54 gpm,
    // one of 5 psi 10 x 0.5^0.54 = 6.88 gpm. The standard rounds 1 / 1.85 to 0.54: 0.1 % of the drop.
    expect(supplyHeadM(curve, 10 * 2 ** 0.54 * GPM) / PSI).toBeCloseTo(45, 1);
    expect(supplyHeadM(curve, 10 * 0.5 ** 0.54 * GPM) / PSI).toBeCloseTo(60, 1);
    expect(supplyHeadM(curve, 10 * GPM) / PSI).toBeCloseTo(55, 6);
  });
});

describe('a pump, well or tank as the source', () => {
  const pumpCurve = [
    { flowM3s: 0, headM: 62 * PSI },
    { flowM3s: 5 * GPM, headM: 55 * PSI },
    { flowM3s: 10 * GPM, headM: 40 * PSI },
  ];
  const pumped = (pumpCutInHeadM: number | null) =>
    withBed(
      planWithSource(sourceAt, {
        water: 'well',
        staticHeadM: null,
        lowestStaticHeadM: null,
        highestStaticHeadM: null,
        flowTestM3s: null,
        flowTestHeadM: null,
        pumpCurve,
        pumpCutInHeadM,
      }),
      smallBed,
    );

  it('is counted on for no more than the pressure at which the pump cuts in', () => {
    const { zone } = zoneOf(pumped(45 * PSI));
    expect(modelSource(pumped(45 * PSI), typicalCatalog).basis).toBe('pump');
    // The small bed draws under 1 gpm: the pump could give 60 psi there, but may be waiting for 45.
    expect(zone.flowM3s).toBeLessThan(1.2 * GPM);
    expect(zone.availableSourceHeadM / PSI).toBeCloseTo(45, 3);
    expect(zone.solution.status).toBe('settled');
  });

  it('follows its curve where the curve is below the cut-in, and where no cut-in is known says so', () => {
    const { design, zone } = zoneOf(pumped(null));
    // By hand: 62 psi less 7 psi over 5 gpm, straight between.
    expect(zone.availableSourceHeadM / PSI).toBeCloseTo(62 - (7 / 5) * (zone.flowM3s / GPM), 3);
    expect(design.problems.map(({ code }) => code)).toContain('supply.no-cut-in');
    expect(zoneOf(pumped(45 * PSI)).design.problems.map(({ code }) => code)).not.toContain(
      'supply.no-cut-in',
    );
  });

  it('counts on three quarters of the most its curve gives', () => {
    expect(modelSource(pumped(45 * PSI), typicalCatalog).usableFlowM3s! / GPM).toBeCloseTo(7.5, 9);
  });

  it('strains every part by what it gives against shut valves, not by its cut-in', () => {
    expect(modelSource(pumped(45 * PSI), typicalCatalog).highestStaticHeadM / PSI).toBeCloseTo(62, 9);
    expect(highestStaticHeadM(townSource(sourceAt))! / PSI).toBeCloseTo(70, 9);
    expect(highestStaticHeadM(null)).toBeNull();
  });

  it('as a tank gives its height, whatever runs', () => {
    const tank = withBed(
      planWithSource(sourceAt, {
        water: 'tank',
        staticHeadM: null,
        lowestStaticHeadM: null,
        flowTestM3s: null,
        flowTestHeadM: null,
        pumpCurve: [{ flowM3s: 0, headM: 12 }],
        pumpCutInHeadM: 12,
      }),
      smallBed,
    );
    expect(zoneOf(tank).zone.availableSourceHeadM).toBeCloseTo(12, 6);
  });
});

describe('height through the whole supply stage', () => {
  it('takes 4.335 psi for 10 ft of rise behind a regulator that holds', () => {
    // By hand: 3.048 m of water at 9806.65 Pa/m is 29 890.7 Pa; over 6 894.757 Pa a psi, 4.3353 psi.
    const at = (riseM: number) => {
      const plan = withBed(planWithSource(sourceAt, { elevationM: 0 }), smallBed, { elevationM: riseM });
      return zoneOf({ ...plan, valves: valve({ x: -2, y: -1 }, 0) }).zone;
    };
    const [level, high] = [at(0), at(10 * FOOT)];
    expect(level.solution.state).toContain('active');
    expect(high.solution.state).toContain('active');
    const fallPsi = (level.worstEmitter.headM - high.worstEmitter.headM) / PSI;
    // The raised bed takes 0.3 % less water by its plateau, and so a little less friction.
    expect(Math.abs(fallPsi - 4.335)).toBeLessThan(0.005);
  });
});

describe('check valves by height', () => {
  const down = (feet: number): Plan => ({
    ...withBed(planWithSource({ x: -20, y: -2 }, { elevationM: 0 }), smallBed, { elevationM: -feet * FOOT }),
    valves: valve({ x: -18, y: -1 }, 0),
  });

  it('stand one at each 5 ft a header falls, each a link that all water of the zone passes, and shut by itself', () => {
    const { zone } = zoneOf(down(12));
    const checks = zone.network.links.flatMap((link, index) =>
      link.kind === 'device' && link.device === 'check-valve' ? [{ link, index }] : [],
    );
    // 12 ft hold two whole steps of 5 ft (common practice, no source).
    expect(checks).toHaveLength(2);
    expect(zone.devices.filter(({ kind }) => kind === 'check-valve')).toHaveLength(2);
    for (const { link, index } of checks) {
      expect(link.isOneWay).toBe(true);
      expect(zone.solution.state[index]).toBe('open');
      expect(zone.solution.flowM3s[index]).toBeCloseTo(zone.flowM3s, 12);
    }
  });

  it('are not asked for where every emitter holds its own, nor on a header that does not fall', () => {
    const holding = typicalCatalog.driplines.find(({ checkValve }) => checkValve)!;
    const count = (plan: Plan, changes = {}) =>
      zoneOf(plan, changes).zone.devices.filter(({ kind }) => kind === 'check-valve').length;
    expect(count(down(12), { dripline: holding })).toBe(0);
    expect(count(down(0))).toBe(0);
    expect(loamDripline.checkValve).toBe(false);
  });

  it('and the drain point stands where the main is lowest', () => {
    const plan: Plan = {
      ...withBed(planWithSource({ x: -20, y: -2 }, { elevationM: 0 }), smallBed, { elevationM: 0 }),
      valves: valve({ x: -4, y: -1 }, -2),
    };
    const drain = zoneOf(plan).design.devices.find(({ kind }) => kind === 'drain-point')!;
    // A step of 0.45 m before the box, so that it does not stand in it.
    expect(Math.hypot(drain.at.x - -4, drain.at.y - -1)).toBeCloseTo(0.45, 3);
  });
});

describe('the flush point of a loop', () => {
  it('stands where the two flows meet: half the loop away on level ground, and both legs run to it', () => {
    const { zone } = zoneOf(withBed(planWithSource(sourceAt), smallBed));
    const flush = zone.flush[0]!;
    // Both legs carry the same number of emitters but for one; this loop's first stands 0.1 m from the stub-up and its last up
    // to 0.4 m, so the flows meet within one and a half spacings of the middle.
    const offM = Math.abs(flush.meetsAtM! - flush.distanceM);
    expect(offM).toBeLessThanOrEqual(1.5 * loamDripline.emitterSpacingM);
    expect(flush.endVelocityMs).toBeGreaterThan(0.3048);
  });

  it('of a run that begins and ends in the open has no place where flows meet', () => {
    const plan = withBed(planWithSource(sourceAt), smallBed);
    const bed = servedBed(plan, smallBed);
    const [run] = bed.layout.runs;
    const open = { ...run!, closed: false, path: run!.path.slice(0, -1), role: 'single-row' as const };
    const { zone } = zoneOf(plan, {
      layout: { ...bed.layout, runs: [{ ...open, lengthM: run!.lengthM, flushAtM: run!.lengthM - 1 }] },
    });
    expect(zone.flush[0]?.meetsAtM ?? null).toBeNull();
  });
});
