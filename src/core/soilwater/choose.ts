import { ASSUMED, type Catalog, type Dripline, setting } from '../catalog';
import type { Bed, Plan } from '../plan';
import type { Problem } from '../units';
import { LEAST_WETTED_SHARE } from './joining';
import { pickDripline } from './pickDripline';
import { landscapeCoefficient, traceCoefficient } from './plantFactors';
import { nominalApplicationRateMs, traceNominalRate } from './rate';
import { allowedIntakeMs, traceIntake } from './slope';
import { disagreementsOf, soilOf } from './soils';
import { SOURCES } from './sources';
import { driplineTarget, rowSpacingFor } from './targets';
import type { BedChoice } from './types';
import { traceWetting, wettingRange } from './wetting';

/** A note about one bed. */
function noteOf(bed: Bed, code: string, params: Problem['params'], source?: Problem['source']): Problem {
  return {
    code,
    severity: 'note',
    where: { id: bed.id },
    params: { bedName: bed.name === '' ? bed.id : bed.name, ...params },
    ...(source === undefined ? {} : { source }),
  };
}

/** Soil, plants and sun of a bed: its own, else the site's, else loam, moderate and full sun, each said. */
function conditionsOf(bed: Bed, plan: Plan) {
  const soil = bed.soil ?? plan.site.soil ?? ASSUMED.soil;
  const plants = bed.plants ?? plan.site.plants ?? ASSUMED.plants;
  const sun = bed.sun ?? plan.site.sun ?? ASSUMED.sun;
  const assumed: Problem[] = [];
  if (bed.soil === null && plan.site.soil === null)
    assumed.push(noteOf(bed, 'soilwater.soil-assumed', { soil }, SOURCES.ours));
  if (bed.plants === null && plan.site.plants === null)
    assumed.push(noteOf(bed, 'soilwater.plants-assumed', { plants }, SOURCES.ours));
  if (bed.sun === null && plan.site.sun === null)
    assumed.push(noteOf(bed, 'soilwater.sun-assumed', { sun }, SOURCES.ours));
  return { soil, plants, sun, assumed };
}

/** What the wetted ground says of the spacing: a warning where even the wider model leaves it dry between. */
function spacingFindings(
  bed: Bed,
  dripline: Dripline,
  rowSpacingM: number,
  wetted: { readonly low: number; readonly high: number },
): readonly Problem[] {
  const widestM = Math.max(rowSpacingM, dripline.emitterSpacingM);
  if (wetted.high >= LEAST_WETTED_SHARE * widestM) return [];
  return [
    {
      code: 'soilwater.wetted-ground-narrow',
      severity: 'warn',
      where: { id: bed.id },
      params: {
        bedName: bed.name === '' ? bed.id : bed.name,
        lowM: wetted.low,
        highM: wetted.high,
        spacingM: widestM,
      },
      value: wetted.high,
      limit: LEAST_WETTED_SHARE * widestM,
      unit: 'm',
      source: SOURCES.wettedSpacing,
    },
  ];
}

/** Why the rate cannot go in at once, where it exceeds what the slope lets in. */
function rateFindings(bed: Bed, rateMs: number, intakeMs: number): readonly Problem[] {
  if (rateMs <= intakeMs) return [];
  return [noteOf(bed, 'soilwater.rate-above-intake', { rateMs, intakeMs }, SOURCES.landscapeIntake)];
}

/** Notes naming each pair of sources that disagree about this soil. */
function disagreementNotes(bed: Bed, soil: BedChoice['soil']): readonly Problem[] {
  const widest = disagreementsOf(soil)[0];
  if (widest === undefined) return [];
  const isRate = widest.figure === 'intake';
  return [
    noteOf(
      bed,
      isRate ? 'soilwater.intake-sources-disagree' : 'soilwater.available-water-sources-disagree',
      {
        soil,
        usedValue: widest.used.value,
        usedSource: widest.used.source.text,
        otherValue: widest.other.value,
        otherSource: widest.other.source.text,
        times: widest.times,
      },
      widest.used.source,
    ),
  ];
}

/**
 * Chooses dripline and row spacing for one bed by soil, slope and plants, before routing.
 * What the plan leaves open is assumed (loam, moderate, full sun) and listed in `reasons`; a dripline or spacing named in
 * the plan is kept. Deterministic; ties by catalogue id. Fails: throws only where the catalogue holds no dripline.
 */
export function chooseForBed({
  bed,
  plan,
  catalog,
}: {
  readonly bed: Bed;
  readonly plan: Plan;
  readonly catalog: Catalog;
}): BedChoice {
  const { soil, plants, sun, assumed } = conditionsOf(bed, plan);
  const slopeRatio = bed.slopeRatio ?? 0;
  const intakeRateMs = allowedIntakeMs(soil, slopeRatio);
  const rowSpacingM = bed.rowSpacingM ?? rowSpacingFor(soil, plants);
  const picked = pickDripline({ bed, soil, slopeRatio, intakeRateMs, rowSpacingM, catalog });
  const { dripline } = picked;
  const known = soilOf(soil);
  const wetting = {
    volumeM3: dripline.emitterFlowM3s * driplineTarget(soil).wettingTimeS,
    flowM3s: dripline.emitterFlowM3s,
    conductivityMs: known.saturatedConductivityMs.value,
    porosityRatio: known.porosityRatio.value,
  };
  const wettedDiameterM = wettingRange(wetting).diameterM;
  const rateMs = nominalApplicationRateMs(dripline, rowSpacingM);
  const spacingReason = noteOf(
    bed,
    bed.rowSpacingM === null ? 'soilwater.row-spacing-chosen' : 'soilwater.row-spacing-by-hand',
    { soil, plants, rowSpacingM },
    bed.rowSpacingM === null ? SOURCES.practice : SOURCES.user,
  );
  return {
    bedId: bed.id,
    soil,
    plants,
    sun,
    dripline,
    rowSpacingM,
    rowStretchRatio: bed.rowStretchRatio ?? setting(plan.settings, 'rowStretchRatio'),
    intakeRateMs,
    wettedDiameterM,
    reasons: [
      ...assumed,
      ...picked.reasons,
      spacingReason,
      ...rateFindings(bed, rateMs, intakeRateMs),
      ...spacingFindings(bed, dripline, rowSpacingM, wettedDiameterM),
      ...disagreementNotes(bed, soil),
    ],
    traces: [
      traceNominalRate(dripline, rowSpacingM),
      traceIntake(soil, slopeRatio),
      ...traceWetting(wetting),
      traceCoefficient(landscapeCoefficient(plants, sun, bed)),
    ],
  };
}
