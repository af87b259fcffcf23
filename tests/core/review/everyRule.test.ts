import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import type { Plan, WaterSource } from '../../../src/core/plan';
import { type ReviewedBed, type ReviewInput, reviewDesign } from '../../../src/core/review';
import { buildSchedule, waterBudget, wettingOfChoice } from '../../../src/core/soilwater';
import { designSupply, type SupplyDesign, type Zone } from '../../../src/core/supply';
import { printer } from '../../../src/core/units';
import { sayProblem } from '../../../src/core/words';
import { FOOT, PSI, planWithSource, servedBed, smallBed, withBed } from '../supply/made';

const plan = withBed(planWithSource({ x: -3, y: -2 }), smallBed);
const served = servedBed(plan, smallBed);
const supply = designSupply({ plan, catalog: typicalCatalog, beds: [served], quality: 'finished' });
const zone = supply.zones[0]!;
const bed: ReviewedBed = {
  id: smallBed.id,
  sourceBedId: smallBed.id,
  name: smallBed.id,
  choice: {
    bedId: smallBed.id,
    soil: 'loam',
    plants: 'moderate',
    sun: 'full-sun',
    dripline: served.dripline,
    rowSpacingM: 0.4572,
    rowStretchRatio: 0,
    intakeRateMs: 5e-6,
    wettedDiameterM: { low: 0.4, high: 0.6 },
    reasons: [],
    traces: [],
  },
  runLimitM: 120,
  layout: served.layout,
  applicationRateMs: 5e-6,
  nominalApplicationRateMs: 5e-6,
  zoneId: zone.id,
};
const sound: ReviewInput = {
  plan,
  catalog: typicalCatalog,
  beds: [bed],
  supply,
  schedule: buildSchedule({ plan, beds: [], zones: [], usableFlowM3s: null }),
  waterBudget: waterBudget({ plan, hydrozones: [] }),
};

const withZone = (changes: Partial<Zone>, ...more: readonly Zone[]): ReviewInput => ({
  ...sound,
  supply: { ...supply, zones: [{ ...zone, ...changes }, ...more] },
});
const withSupply = (changes: Partial<SupplyDesign>): ReviewInput => ({
  ...sound,
  supply: { ...supply, ...changes },
});
const withReviewed = (changes: Partial<ReviewedBed>): ReviewInput => ({
  ...sound,
  beds: [{ ...bed, ...changes }],
});
const withPlan = (changes: Partial<Plan>): ReviewInput => ({ ...sound, plan: { ...plan, ...changes } });
const withSourceOf = (changes: Partial<WaterSource>): ReviewInput =>
  withPlan({ sources: { source: { ...plan.sources.source!, ...changes } } });

const assembly = (changes: Partial<Zone['assembly']>) => ({ assembly: { ...zone.assembly, ...changes } });
const header = (maxHeadM: number) => ({
  pipes: zone.pipes.map((pipe) => ({ ...pipe, pipe: { ...pipe.pipe, maxHeadM } })),
});
const speed = (velocityMs: number) => ({ pipes: zone.pipes.map((pipe) => ({ ...pipe, velocityMs })) });
const main = (maxHeadM: number) => ({
  main: supply.main.map((pipe) => ({ ...pipe, pipe: { ...pipe.pipe, maxHeadM } })),
});
const margin = (marginM: number) => ({ requiredSourceHeadM: zone.availableSourceHeadM - marginM });
const flush = (changes: Partial<Zone['flush'][number]>) => ({
  flush: zone.flush.map((point) => ({ ...point, ...changes })),
});
const powerLaw = {
  kind: 'power',
  nominalFlowM3s: 4e-7,
  nominalHeadM: 10,
  exponent: 0.5,
  variationCv: 0.05,
  minHeadM: 5,
  maxHeadM: 30,
} as const;
/** The zone with one emitter raised. */
const raised = (byM: number, isPlain: boolean): Partial<Zone> => {
  const first = zone.network.nodes.findIndex(({ emitter }) => emitter !== undefined);
  const nodes = zone.network.nodes.map((node, index) => ({
    ...node,
    ...(node.emitter && isPlain ? { emitter: powerLaw } : {}),
    elevationM: node.elevationM + (index === first ? byM : 0),
  }));
  return { network: { ...zone.network, nodes } };
};
const metersMadeFor = (maxHeadM: number): ReviewInput => ({
  ...sound,
  catalog: {
    ...typicalCatalog,
    meters: typicalCatalog.meters.map((meter) => ({ ...meter, maxHeadM })),
  },
});
const controller = (stations: number): Plan['controllers'] => ({
  c: {
    id: 'c',
    name: '',
    at: { x: 0, y: -3 },
    stations,
    masterValve: false,
    flowSensor: false,
    weatherSensor: true,
  },
});
const twoZones = (stations: number): ReviewInput => ({
  ...withZone({}, { ...zone, id: 'zone-2', number: 2 }),
  plan: { ...plan, controllers: controller(stations) },
});
const sloping = (slopeRatio: number): Plan['beds'] => ({
  [smallBed.id]: { ...plan.beds[smallBed.id]!, slopeRatio },
});
const shaded = (sun: 'full-sun' | 'shade'): ReviewInput => ({
  ...withZone({ bedIds: [smallBed.id, 'other'] }),
  beds: [bed, { ...bed, id: 'other', name: 'other', choice: { ...bed.choice, sun } }],
});

const [loop] = served.layout.runs;
const loopM = loop!.lengthM;
/** The designer lets loops of this bed be 1 km long. */
const longAllowed = (runLimitM: number): ReviewInput => ({
  ...withReviewed({ runLimitM }),
  plan: { ...plan, beds: { [smallBed.id]: { ...plan.beds[smallBed.id]!, maxRunM: 1000 } } },
});
const openRow = (runLimitM: number): ReviewInput =>
  withReviewed({
    runLimitM,
    layout: { ...bed.layout, runs: [{ ...loop!, role: 'single-row', closed: false }] },
  });
const edged = (offsetM: number): Plan['beds'] => ({
  [smallBed.id]: { ...plan.beds[smallBed.id]!, offsetsM: { foundation: offsetM } },
});
const onSoil = (offsetM: number, soil: 'loam' | 'clay'): ReviewInput => ({
  ...withPlan({ beds: edged(offsetM) }),
  beds: [{ ...bed, choice: { ...bed.choice, soil } }],
});

/** Rule, an input at which it must speak, and one just the other side of its limit at which it must not. */
const RULES: readonly [code: string, speaks: ReviewInput, silent: ReviewInput][] = [
  [
    'emitter-below-least',
    withZone({ worstEmitter: { ...zone.worstEmitter, headM: 9.9 * PSI } }),
    withZone({ worstEmitter: { ...zone.worstEmitter, headM: 10.1 * PSI } }),
  ],
  [
    'emitter-above-greatest',
    withZone({ emitters: { ...zone.emitters, headM: zone.emitters.headM.map(() => 61 * PSI) } }),
    withZone({ emitters: { ...zone.emitters, headM: zone.emitters.headM.map(() => 59 * PSI) } }),
  ],
  ['regulator-short-of-inlet', withZone(assembly({ regulatorMinInletHeadM: 64 * PSI })), sound],
  ['flow-below-assembly', withZone(assembly({ minFlowM3s: zone.flowM3s * 1.1 })), sound],
  ['flow-above-assembly', withZone(assembly({ maxFlowM3s: zone.flowM3s * 0.9 })), sound],
  ['velocity-over-limit', withZone(speed(5.1 * FOOT)), withZone(speed(4.9 * FOOT))],
  ['source-short', withZone(margin(-0.5)), withZone(margin(5))],
  [
    'flow-over-usable',
    withSupply({ usableFlowM3s: zone.flowM3s * 0.9 }),
    withSupply({ usableFlowM3s: zone.flowM3s * 1.1 }),
  ],
  ['short-when-filter-loaded', withZone(margin(0.01)), withZone(margin(5))],
  [
    'static-too-high',
    withSourceOf({ highestStaticHeadM: 81 * PSI }),
    withSourceOf({ highestStaticHeadM: 79 * PSI }),
  ],
  // 70 psi at the highest, the main 18 in below the ground: 70.65 psi.
  ['pipe-over-rating', withSupply(main(70.5 * PSI)), withSupply(main(71 * PSI))],
  ['pipe-over-rating', withZone(header(24 * PSI)), withZone(header(27 * PSI))],
  ['pipe-over-rating-regulator-stuck', withZone(header(65 * PSI)), withZone(header(72 * PSI))],
  [
    'part-over-rating',
    withSupply({ backflow: { ...supply.backflow!, maxHeadM: 69 * PSI } }),
    withSupply({ backflow: { ...supply.backflow!, maxHeadM: 71 * PSI } }),
  ],
  // The meter at the connection, 70 psi at the highest; its loss is in the flow test, its body is not.
  ['part-over-rating', metersMadeFor(69 * PSI), metersMadeFor(71 * PSI)],
  [
    'part-over-rating',
    withZone(assembly({ maxHeadM: 69 * PSI })),
    withZone(assembly({ maxHeadM: 71 * PSI })),
  ],
  [
    'tubing-over-at-highest',
    withZone(assembly({ regulatedHeadM: 61 * PSI })),
    withZone(assembly({ regulatedHeadM: 59 * PSI })),
  ],
  ['backflow-not-chosen', withSourceOf({ backflowId: null }), sound],
  ['backflow-local-code', sound, withSourceOf({ backflowId: null })],
  // A pressure vacuum breaker 12 in above the highest emitter; the source 2 m above the bed stands higher than that, one 2 m below does not.
  ['backflow-height', withSourceOf({ elevationM: 2 }), withSourceOf({ elevationM: -2 })],
  ['backflow-below-highest-emitter', withSourceOf({ elevationM: -2 }), withSourceOf({ elevationM: 2 })],
  ['locate-before-digging', sound, withSupply({ main: [], zones: [] })],
  [
    'utility-crossed',
    withSupply({ crossings: [{ utilityId: 'gas', at: { x: 0, y: 0 }, pipeId: 'main-1' }] }),
    sound,
  ],
  // Defaults: 12 in from a foundation, 24 in on clay.
  ['foundation-offset', onSoil(11.9 * 0.0254, 'loam'), onSoil(12 * 0.0254, 'loam')],
  ['foundation-offset-clay', onSoil(23.9 * 0.0254, 'clay'), onSoil(24 * 0.0254, 'clay')],
  ['recycled-marking', withSourceOf({ water: 'recycled' }), sound],
  ['recycled-cross-connection', withSourceOf({ water: 'recycled' }), sound],
  ['flush-too-slow', withZone(flush({ ok: false })), withZone(flush({ ok: true }))],
  [
    'flush-out-of-reach',
    withZone(flush({ at: { x: 2.3, y: 1.5 } })),
    withZone(flush({ at: { x: 2.3, y: 0.8 } })),
  ],
  ['uniformity-low', withZone({ emissionUniformity: 0.89 }), withZone({ emissionUniformity: 0.91 })],
  // 25 psi at the regulator less 10 psi at the emitter: 15 psi, 10.55 m; plain tubing 8 ft.
  ['elevation-spread', withZone(raised(10.6, false)), withZone(raised(10.5, false))],
  ['elevation-spread-plain', withZone(raised(8.1 * FOOT, true)), withZone(raised(7.9 * FOOT, true))],
  // The loop's own length is the limit's edge where the designer allowed more than was solved for.
  ['run-too-long', longAllowed(loopM - 0.1), longAllowed(loopM + 0.1)],
  // A row fed at one end is one leg of a loop: half of the solved length.
  ['run-too-long', openRow(2 * loopM - 0.2), openRow(2 * loopM + 0.2)],
  ['mixed-zone', shaded('shade'), shaded('full-sun')],
  ['bed-without-zone', withReviewed({ zoneId: null }), sound],
  [
    'route-not-verified',
    withReviewed({
      layout: { ...bed.layout, verified: { ...bed.layout.verified, passed: false, failures: ['crossing'] } },
    }),
    sound,
  ],
  // 0.75 in/h is 5.29e-6 m/s, on slopes over 25 %.
  [
    'steep-and-fast',
    { ...withPlan({ beds: sloping(0.26) }), beds: [{ ...bed, applicationRateMs: 5.4e-6 }] },
    { ...withPlan({ beds: sloping(0.24) }), beds: [{ ...bed, applicationRateMs: 5.4e-6 }] },
  ],
  ['level-ground-assumed', sound, withSourceOf({ elevationM: 0 })],
  [
    'meter-not-known',
    withSourceOf({ meterSizeM: null, flowTestM3s: null }),
    withSourceOf({ meterSizeM: 0.019 }),
  ],
  ['no-controller', sound, withPlan({ controllers: controller(4) })],
  ['too-few-stations', twoZones(1), twoZones(2)],
  [
    'high-and-low-on-one-valve',
    {
      ...withZone({ bedIds: [smallBed.id, 'other'] }),
      beds: [
        { ...bed, choice: { ...bed.choice, plants: 'high' } },
        { ...bed, id: 'other', choice: { ...bed.choice, plants: 'low' } },
      ],
    },
    shaded('full-sun'),
  ],
];

/** Pressures typed back in for the zone, m of head, by the place they were read at. */
const withReadings = (headM: Readonly<Record<string, number>>): ReviewInput =>
  withPlan({
    readings: Object.fromEntries(
      Object.entries(headM).map(([place, value]) => [
        place,
        { id: place, on: '', by: '', zoneKey: '1', place, headM: value, flowM3s: null, remark: '' },
      ]),
    ),
  });
const pressureAt = (nodeId: string): number => {
  const at = zone.network.nodes.findIndex(({ id }) => id === nodeId);
  return zone.solution.headM[at]! - zone.network.nodes[at]!.elevationM;
};
// Eight rows in 10 ft less twice 3 in, 0.4137 m apart (made.ts), emitters 1 ft apart. A plant 0.16 m beside a row is further
// from the next (0.2537 m) than from the worst place of its own row's emitters: hypot(0.16, 0.3048 / 2) = 0.2210 m.
const ROW_M = (10 * FOOT - 0.1524) / 7;
const BESIDE_ROWS = 2 + 0.16 / ROW_M;
const EMITTER_M = Math.hypot(0.16, FOOT / 2);
const { low: lowM, high: highM } = wettingOfChoice(bed.choice).diameterM;
const planted = (rows: number, rootBallRadiusM: number): ReviewInput =>
  withPlan({
    plants: { p: { id: 'p', name: '', at: { x: 2.2, y: 0.0762 + rows * ROW_M }, rootBallRadiusM } },
  });
const SITE_RULES: readonly [string, ReviewInput, ReviewInput][] = [
  [
    'readings-mean',
    withReadings({ 'after the regulator': 0, 'flush valve': 0 }),
    withReadings({ 'after the regulator': pressureAt('regulator-outlet') }),
  ],
  ['root-ball-dry', planted(BESIDE_ROWS, EMITTER_M - highM / 2 - 0.01), planted(2, 0.01)],
  [
    'root-ball-may-stay-dry',
    planted(BESIDE_ROWS, EMITTER_M - (lowM + highM) / 4),
    planted(BESIDE_ROWS, EMITTER_M - lowM / 2 + 0.01),
  ],
];

/** What each reading says where it fits and where it does not is held in fieldReadings.test.ts. */
const HELD_ELSEWHERE = ['pressure-agrees', 'pressure-differs', 'flow-agrees', 'flow-differs'];

it('no finding of the review is without a case in which it speaks and one in which it is silent', () => {
  const rules = import.meta.glob<string>('../../../src/core/review/*.ts', {
    query: '?raw',
    import: 'default',
    eager: true,
  });
  const coded = Object.values(rules).flatMap((text) =>
    [...text.matchAll(/'review\.(?!mend-)([a-z-]+)'/g)].map(([, code]) => code!),
  );
  const cased = [...RULES, ...SITE_RULES].map(([code]) => code);
  expect(new Set(coded).size).toBeGreaterThan(40);
  expect([...new Set(coded)].filter((code) => ![...cased, ...HELD_ELSEWHERE].includes(code))).toEqual([]);
});

describe('every rule speaks beyond its limit and is silent within it', () => {
  it.each([...RULES, ...SITE_RULES])('review.%s', (name, speaks, silent) => {
    const code = `review.${name}`;
    const found = reviewDesign(speaks).filter((problem) => problem.code === code);
    expect(found.length).toBeGreaterThan(0);
    expect(reviewDesign(silent).map((problem) => problem.code)).not.toContain(code);
    for (const problem of found) {
      // A figure without its limit, or a limit without the place it comes from, is no finding a checker can use.
      expect((problem.value === undefined) === (problem.limit === undefined)).toBe(true);
      if (problem.limit !== undefined) expect(problem.unit).toBeDefined();
      const said = sayProblem(problem, printer('us'));
      for (const part of [said.what, said.why, said.next]) expect(part.length).toBeGreaterThan(10);
    }
  });

  it('a zone without pressure behind its regulator reads as a shut valve first of all', () => {
    const found = reviewDesign(withReadings({ 'after the regulator': 0, 'flush valve': 0 }));
    const meaning = found.find(({ code }) => code === 'review.readings-mean')!;
    expect((meaning.params.causes as readonly string[])[0]).toMatch(/^supply\.fault-valve-closed/);
    expect(sayProblem(meaning, printer('us')).what).toContain('valve shut');
  });

  it('every finding with a limit names where the limit comes from', () => {
    const found = RULES.flatMap(([, speaks]) => reviewDesign(speaks));
    const without = found.filter(({ limit, source }) => limit !== undefined && source === undefined);
    expect([...new Set(without.map(({ code }) => code))]).toEqual([]);
  });
});
