import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Catalog, Dripline } from '../../../src/core/catalog';
import { emptyPlan, plainBed } from '../../../src/core/plan';
import { chooseForBed } from '../../../src/core/soilwater';

const INCH = 0.0254;
const GPH = 0.003785411784 / 3600;

function tubing(gph: number, spacingIn: number, checkValve = false): Dripline {
  return {
    kind: 'dripline',
    id: `t-${gph}-${spacingIn}${checkValve ? '-holding' : ''}`,
    name: 'tubing',
    source: { text: 'typical', standing: 'typical' },
    emitterFlowM3s: gph * GPH,
    emitterSpacingM: spacingIn * INCH,
    insideDiameterM: 0.0145,
    outsideDiameterM: 0.017,
    minBendRadiusM: 0.127,
    emitter: {
      kind: 'compensating',
      nominalFlowM3s: gph * GPH,
      thresholdHeadM: 7,
      belowExponent: 0.5,
      plateauSlopePerM: 0.001,
      maxHeadM: 42,
      variationCv: 0.03,
      minHeadM: 7,
    },
    emitterLossK: 0.5,
    absoluteRoughnessM: 1.5e-6,
    rollLengthsM: [152.4],
    checkValve,
    flushVelocityMs: 0.3048,
  };
}
const catalog: Catalog = {
  driplines: [0.26, 0.4, 0.6, 0.9].flatMap((gph) =>
    [12, 18, 24].flatMap((spacing) => [tubing(gph, spacing), tubing(gph, spacing, true)]),
  ),
  pipes: [],
  assemblies: [],
  meters: [],
  backflows: [],
  fittings: [],
};
const plan = emptyPlan('p');
const bed = plainBed('b', [{ points: [{ x: 0, y: 0 }], edges: [] }]);

describe('choosing tubing for a bed', () => {
  it('lays 0.4 gph at 12 in with rows at 18 in on loam (common practice, no source)', () => {
    const choice = chooseForBed({ bed: { ...bed, soil: 'loam' }, plan, catalog });
    expect(choice.dripline.id).toBe('t-0.4-12');
    expect(choice.rowSpacingM).toBeCloseTo(18 * INCH, 12);
  });

  it('lays closer rows on sand, and a lower flow with wider rows and emitters on clay', () => {
    const loam = chooseForBed({ bed: { ...bed, soil: 'loam' }, plan, catalog });
    const sand = chooseForBed({ bed: { ...bed, soil: 'sand' }, plan, catalog });
    const clay = chooseForBed({ bed: { ...bed, soil: 'clay' }, plan, catalog });
    expect(sand.rowSpacingM).toBeLessThan(loam.rowSpacingM);
    expect(sand.dripline.emitterSpacingM).toBeLessThanOrEqual(loam.dripline.emitterSpacingM);
    expect(clay.dripline.emitterFlowM3s).toBeLessThan(loam.dripline.emitterFlowM3s);
    expect(clay.rowSpacingM).toBeGreaterThan(loam.rowSpacingM);
    expect(clay.dripline.emitterSpacingM).toBeGreaterThan(loam.dripline.emitterSpacingM);
  });

  it('says what it assumed where neither bed nor site says', () => {
    const codes = chooseForBed({ bed, plan, catalog }).reasons.map((reason) => reason.code);
    expect(codes).toContain('soilwater.soil-assumed');
    expect(codes).toContain('soilwater.plants-assumed');
    expect(codes).toContain('soilwater.sun-assumed');
  });

  it("takes the site's soil where the bed is silent, and assumes nothing then", () => {
    const sandy = { ...plan, site: { ...plan.site, soil: 'sand' as const } };
    const choice = chooseForBed({ bed, plan: sandy, catalog });
    expect(choice.soil).toBe('sand');
    expect(choice.reasons.map((reason) => reason.code)).not.toContain('soilwater.soil-assumed');
  });

  it("keeps the designer's dripline and row spacing", () => {
    const choice = chooseForBed({
      bed: { ...bed, driplineId: 't-0.9-24', rowSpacingM: 0.33 },
      plan,
      catalog,
    });
    expect(choice.dripline.id).toBe('t-0.9-24');
    expect(choice.rowSpacingM).toBe(0.33);
  });

  it('warns of a dripline the catalogue does not hold and goes on with the soil’s own', () => {
    const choice = chooseForBed({ bed: { ...bed, driplineId: 'gone' }, plan, catalog });
    expect(choice.dripline.id).toBe('t-0.4-12');
    expect(choice.reasons.find((reason) => reason.code === 'soilwater.dripline-unknown')?.severity).toBe(
      'warn',
    );
  });

  it('takes emitters that hold their water on a 10 % slope, and none of them on the level', () => {
    const level = chooseForBed({ bed: { ...bed, slopeRatio: 0 }, plan, catalog });
    const bank = chooseForBed({ bed: { ...bed, slopeRatio: 0.1 }, plan, catalog });
    expect(level.dripline.checkValve).toBe(false);
    expect(bank.dripline.checkValve).toBe(true);
  });

  it('names the sources that disagree about the intake of clay, ten times apart', () => {
    const choice = chooseForBed({ bed: { ...bed, soil: 'clay' }, plan, catalog });
    const note = choice.reasons.find((reason) => reason.code === 'soilwater.intake-sources-disagree');
    expect(note?.params.times).toBeCloseTo(10, 9);
  });

  it('is the same whatever the order of the catalogue', () => {
    const turned = { ...catalog, driplines: [...catalog.driplines].reverse() };
    expect(chooseForBed({ bed, plan, catalog: turned })).toEqual(chooseForBed({ bed, plan, catalog }));
  });

  it('allows no more intake on steeper ground, whatever the soil, and less on some', () => {
    let fell = 0;
    fc.assert(
      fc.property(
        fc.constantFrom('sand', 'loamy-sand', 'sandy-loam', 'loam', 'silt-loam', 'clay-loam', 'clay'),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (soil, a, b) => {
          const intakeAt = (slopeRatio: number) =>
            chooseForBed({ bed: { ...bed, soil, slopeRatio }, plan, catalog }).intakeRateMs;
          const [gentle, steep] = [intakeAt(Math.min(a, b)), intakeAt(Math.max(a, b))];
          expect(steep).toBeLessThanOrEqual(gentle);
          if (steep < gentle) fell++;
        },
      ),
      { seed: 3 },
    );
    expect(fell).toBeGreaterThan(20);
  });
});
