import { describe, expect, it } from 'vitest';
import { typicalCatalog } from '../../../src/core/catalog';
import { applyCommand, type CommandName, type Plan } from '../../../src/core/plan';
import { type ReviewedBed, type ReviewInput, reviewDesign } from '../../../src/core/review';
import { buildSchedule, waterBudget } from '../../../src/core/soilwater';
import { designSupply, type ServedBed, type SupplyDesign } from '../../../src/core/supply';
import { type Problem, printer } from '../../../src/core/units';
import { sayProblem, sentenceOf } from '../../../src/core/words';
import { FOOT, GPM, loamDripline, PSI, planWithSource, servedBed, smallBed, withBed } from '../supply/made';

function reviewed(beds: readonly ServedBed[], supply: SupplyDesign): ReviewedBed[] {
  return beds.map((bed) => ({
    id: bed.bedId,
    sourceBedId: bed.bedId,
    name: bed.name,
    choice: {
      bedId: bed.bedId,
      soil: bed.soil as ReviewedBed['choice']['soil'],
      plants: bed.plants as ReviewedBed['choice']['plants'],
      sun: bed.sun as ReviewedBed['choice']['sun'],
      dripline: bed.dripline,
      rowSpacingM: 0.4572,
      rowStretchRatio: 0,
      intakeRateMs: 5e-6,
      wettedDiameterM: { low: 0.4, high: 0.6 },
      reasons: [],
      traces: [],
    },
    runLimitM: 120,
    layout: bed.layout,
    applicationRateMs: 5e-6,
    nominalApplicationRateMs: 5e-6,
    zoneId: supply.zones.find(({ bedIds }) => bedIds.includes(bed.bedId))?.id ?? null,
  }));
}

function inputFor(plan: Plan, beds: readonly ServedBed[]): ReviewInput {
  const supply = designSupply({ plan, catalog: typicalCatalog, beds, quality: 'finished' });
  return {
    plan,
    catalog: typicalCatalog,
    beds: reviewed(beds, supply),
    supply,
    schedule: buildSchedule({ plan, beds: [], zones: [], usableFlowM3s: null }),
    waterBudget: waterBudget({ plan, hydrozones: [] }),
  };
}

/** The plan after the first mend of a finding. */
const mend = (plan: Plan, problem: Problem) => {
  const { command, params } = problem.mends![0]!;
  return applyCommand(plan, { name: command as CommandName, params });
};

const sourceAt = { x: -3, y: -2 };
const plainPlan = withBed(planWithSource(sourceAt), smallBed);
const review = (plan: Plan, changes: Partial<ServedBed> = {}) => {
  const input = inputFor(plan, [servedBed(plan, smallBed, changes)]);
  return { input, found: reviewDesign(input), codes: new Set(reviewDesign(input).map(({ code }) => code)) };
};
const sourceOn = (changes: Parameters<typeof planWithSource>[1]) =>
  withBed(planWithSource(sourceAt, changes), smallBed);

describe('the review', () => {
  it('finds nothing that stops a small loam bed on good town water', () => {
    const { found } = review(plainPlan);
    expect(found.filter(({ severity }) => severity === 'stop')).toEqual([]);
    expect(found.map(({ code }) => code)).toContain('review.backflow-local-code');
    expect(found.map(({ code }) => code)).toContain('review.locate-before-digging');
  });

  it('says every finding in words, in both systems of units', () => {
    const plan = sourceOn({
      staticHeadM: 95 * PSI,
      highestStaticHeadM: 95 * PSI,
      water: 'recycled',
      backflowId: null,
    });
    const { found, input } = review(plan, { zoneKey: 'front' });
    const all = [
      ...found,
      ...input.supply.problems,
      ...input.supply.zones.flatMap((z) => [...z.why, ...z.problems]),
    ];
    expect(all.length).toBeGreaterThan(5);
    for (const problem of all) {
      expect(sentenceOf(problem.code), problem.code).not.toBeNull();
      for (const mend of problem.mends ?? []) expect(sentenceOf(mend.words), mend.words).not.toBeNull();
      for (const system of ['us', 'metric'] as const) {
        const said = sayProblem(problem, printer(system));
        expect(`${said.what} ${said.why} ${said.next}`).not.toMatch(/NaN|undefined|null|\[object/);
      }
    }
  });

  it('stops at a static pressure above 80 psi, and not at 79', () => {
    const at = (psi: number) =>
      review(sourceOn({ staticHeadM: 60 * PSI, highestStaticHeadM: psi * PSI })).codes.has(
        'review.static-too-high',
      );
    expect(at(79)).toBe(false);
    expect(at(81)).toBe(true);
  });

  it('stops where the source cannot lift the water to the bed, and names both pressures', () => {
    // 20 psi at rest; the bed 10 ft up a wall takes 4.3 of them, valve, breaker and regulator the rest.
    const plan = withBed(
      planWithSource(sourceAt, {
        elevationM: 0,
        staticHeadM: 20 * PSI,
        lowestStaticHeadM: 20 * PSI,
        highestStaticHeadM: 25 * PSI,
        flowTestHeadM: 12 * PSI,
      }),
      smallBed,
      { elevationM: 10 * FOOT },
    );
    const { found } = review(plan);
    const short = found.find(({ code }) => code === 'review.source-short');
    expect(short?.severity).toBe('stop');
    expect(short!.limit!).toBeGreaterThan(short!.value!);
    expect(found.map(({ code }) => code)).toContain('review.emitter-below-least');
  });

  it('stops where a vacuum breaker stands below the highest emitter, and offers another device', () => {
    const plan = withBed(planWithSource(sourceAt, { elevationM: 0 }), smallBed, { elevationM: 2 });
    const { found } = review(plan);
    const low = found.find(({ code }) => code === 'review.backflow-below-highest-emitter');
    expect(low?.severity).toBe('stop');
    // By hand: 2 m up and the breaker's own 12 in.
    expect(low?.value).toBeCloseTo(2 + 0.3048, 6);
    const mended = mend(plan, low!);
    expect(mended.ok && mended.value.plan.sources.source?.backflowId).toBe('backflow-rp-1');
  });

  it('warns of recycled water until it is marked, and of no measured pressure', () => {
    expect(review(sourceOn({ water: 'recycled' })).codes).toContain('review.recycled-marking');
    const dry = review(
      sourceOn({ staticHeadM: null, lowestStaticHeadM: null, flowTestM3s: null, flowTestHeadM: null }),
    );
    expect(dry.input.supply.problems.map(({ code }) => code)).toContain('supply.pressure-not-measured');
  });

  it('stops where high and low need are put on one valve, and its mend parts them', () => {
    const other = { ...smallBed, id: 'bed-b', x: 8 };
    const plan = withBed(withBed(planWithSource(sourceAt), smallBed, { zoneKey: 'one' }), other, {
      zoneKey: 'one',
    });
    const beds = [
      servedBed(plan, smallBed, { zoneKey: 'one', plants: 'high' }),
      servedBed(plan, other, { zoneKey: 'one', plants: 'low' }),
    ];
    const found = reviewDesign(inputFor(plan, beds));
    const mixed = found.find(({ code }) => code === 'review.high-and-low-on-one-valve');
    expect(mixed?.severity).toBe('stop');
    const mended = mend(plan, mixed!);
    expect(mended.ok && Object.values(mended.value.plan.beds).map(({ zoneKey }) => zoneKey)).toEqual([
      null,
      null,
    ]);
  });

  it('stops where an assembly with too high a setting blows the emitters of a bed far below', () => {
    const plain = typicalCatalog.driplines.find(({ id }) => id === 'dripline-plain-0.4gph-12in')!;
    const plan = withBed(planWithSource(sourceAt, { elevationM: 0 }), smallBed, { elevationM: -15 });
    const { found } = review(plan, { dripline: plain });
    // 15 psi setting and 15 m (21 psi) of fall: above the 30 psi of plain tubing.
    expect(found.map(({ code }) => code)).toContain('review.emitter-above-greatest');
  });

  it('warns where tubing lies nearer a foundation on clay than 24 in, and mends it', () => {
    const withEdges: Plan = {
      ...plainPlan,
      beds: { [smallBed.id]: { ...plainPlan.beds[smallBed.id]!, offsetsM: { foundation: 0.3048 } } },
    };
    const { found } = review(withEdges, { soil: 'clay' });
    const near = found.find(({ code }) => code === 'review.foundation-offset-clay');
    expect(near?.limit).toBeCloseTo(0.6096, 9);
    const mended = mend(withEdges, near!);
    expect(mended.ok && mended.value.plan.beds[smallBed.id]?.offsetsM.foundation).toBeCloseTo(0.6096, 9);
    expect(review(withEdges, { soil: 'loam' }).codes.has('review.foundation-offset-clay')).toBe(false);
  });

  it('warns of a loop longer than was solved for where the designer allowed it, and its mend takes the solved length', () => {
    const long: Plan = {
      ...plainPlan,
      beds: { [smallBed.id]: { ...plainPlan.beds[smallBed.id]!, maxRunM: 1000 } },
    };
    const input = inputFor(long, [servedBed(long, smallBed)]);
    const found = reviewDesign({ ...input, beds: input.beds.map((bed) => ({ ...bed, runLimitM: 20 })) });
    const told = found.find(({ code }) => code === 'review.run-too-long');
    expect(told?.limit).toBe(20);
    expect(told?.source?.standing).toBe('published');
    const mended = mend(long, told!);
    expect(mended.ok && mended.value.plan.beds[smallBed.id]?.maxRunM).toBeNull();
  });

  it('names a crossing of a known buried line with its place', () => {
    const plan: Plan = {
      ...plainPlan,
      utilities: {
        gas: {
          id: 'gas',
          name: 'Gas',
          path: [
            { x: -1, y: -10 },
            { x: -1, y: 10 },
          ],
          depthM: 0.6,
        },
      },
    };
    const { found } = review(plan);
    const crossed = found.filter(({ code }) => code === 'review.utility-crossed');
    expect(crossed).toHaveLength(1);
    expect(crossed[0]!.where.x).toBeCloseTo(-1, 3);
  });

  it('warns where a zone takes less than its assembly works with', () => {
    const few = { ...loamDripline, emitterFlowM3s: loamDripline.emitterFlowM3s / 10 };
    const law = { ...few.emitter, nominalFlowM3s: few.emitterFlowM3s };
    const { found } = review(plainPlan, { dripline: { ...few, emitter: law } });
    const low = found.find(({ code }) => code === 'review.flow-below-assembly');
    expect(low?.limit).toBeCloseTo(0.2 * GPM, 12);
  });
});
