import type { Catalog, Dripline } from '../catalog';
import type { Bed, SoilClass } from '../plan';
import type { Problem } from '../units';
import { nominalApplicationRateMs } from './rate';
import { SOURCES } from './sources';
import { type DriplineTarget, driplineTarget } from './targets';

/** Above this slope tubing drains to its low end after each run, so emitters that hold water are chosen. Common practice, no source. */
const CHECK_VALVE_SLOPE_RATIO = 0.05;

/** What the choice of tubing looks at. */
export interface DriplineQuestion {
  readonly bed: Bed;
  readonly soil: SoilClass;
  readonly slopeRatio: number;
  readonly intakeRateMs: number;
  readonly rowSpacingM: number;
  readonly catalog: Catalog;
}

const BAND_EDGE_RATIO = 1e-6;

/** How far a dripline is from what is wanted: proportional distance of flow and spacing; outside the flow band counts double. */
function distanceFrom(wanted: DriplineTarget, flowM3s: number, dripline: Dripline): number {
  const [low, high] = wanted.flowBandM3s;
  const inBand =
    dripline.emitterFlowM3s >= low * (1 - BAND_EDGE_RATIO) &&
    dripline.emitterFlowM3s <= high * (1 + BAND_EDGE_RATIO);
  const flowOff = Math.abs(Math.log(dripline.emitterFlowM3s / flowM3s));
  const spacingOff = Math.abs(Math.log(dripline.emitterSpacingM / wanted.emitterSpacingM));
  return (inBand ? 1 : 2) * flowOff + spacingOff;
}

/** Less distance first; then compensating emitters; then id. */
function nearestFirst(wanted: DriplineTarget, flowM3s: number, driplines: readonly Dripline[]) {
  return [...driplines].sort(
    (a, b) =>
      Math.round((distanceFrom(wanted, flowM3s, a) - distanceFrom(wanted, flowM3s, b)) * 1e9) ||
      Number(b.emitter.kind === 'compensating') - Number(a.emitter.kind === 'compensating') ||
      (a.id < b.id ? -1 : a.id > b.id ? 1 : 0),
  );
}

function reason(
  bed: Bed,
  code: string,
  severity: Problem['severity'],
  params: Problem['params'],
  source: Problem['source'] = SOURCES.practice,
): Problem {
  return {
    code,
    severity,
    where: { id: bed.id },
    params: { bedName: bed.name === '' ? bed.id : bed.name, ...params },
    ...(source === undefined ? {} : { source }),
  };
}

/** The catalogue's fittest for the soil's wanted flow, holding water on slopes where one that does exists. */
function fittest({ soil, slopeRatio, catalog }: DriplineQuestion, flowM3s: number): Dripline {
  const wanted = driplineTarget(soil);
  const holding = catalog.driplines.filter((part) => part.checkValve);
  const wantsHolding = slopeRatio > CHECK_VALVE_SLOPE_RATIO && holding.length > 0;
  const plain = catalog.driplines.filter((part) => !part.checkValve);
  const candidates = wantsHolding ? holding : plain.length > 0 ? plain : catalog.driplines;
  const best = nearestFirst(wanted, flowM3s, candidates)[0];
  if (best === undefined) throw new Error('the catalogue holds no dripline');
  return best;
}

/**
 * The dripline of a bed with its reasons. The plan's own choice is kept where the catalogue knows it; else the soil's
 * wanted flow, lowered to the bottom of its band where the slope takes less than the rate.
 */
export function pickDripline(question: DriplineQuestion): {
  readonly dripline: Dripline;
  readonly reasons: readonly Problem[];
} {
  const { bed, soil, catalog, slopeRatio, intakeRateMs, rowSpacingM } = question;
  const reasons: Problem[] = [];
  if (bed.driplineId !== null) {
    const named = catalog.driplines.find((part) => part.id === bed.driplineId);
    if (named !== undefined)
      return {
        dripline: named,
        reasons: [reason(bed, 'soilwater.dripline-by-hand', 'note', paramsOf(named), SOURCES.user)],
      };
    reasons.push(reason(bed, 'soilwater.dripline-unknown', 'warn', { driplineId: bed.driplineId }));
  }
  const wanted = driplineTarget(soil);
  const usual = fittest(question, wanted.emitterFlowM3s);
  const isSloping = slopeRatio > CHECK_VALVE_SLOPE_RATIO;
  const runsOff = nominalApplicationRateMs(usual, rowSpacingM) > intakeRateMs;
  const gentle =
    isSloping && runsOff ? fittest(question, Math.min(wanted.flowBandM3s[0], usual.emitterFlowM3s)) : usual;
  reasons.push(reason(bed, 'soilwater.dripline-by-soil', 'note', { soil, ...paramsOf(gentle) }));
  if (isSloping && gentle.checkValve)
    reasons.push(reason(bed, 'soilwater.dripline-holds-water', 'note', { slopeRatio }));
  if (gentle.id !== usual.id)
    reasons.push(
      reason(bed, 'soilwater.dripline-lower-flow', 'note', {
        slopeRatio,
        intakeMs: intakeRateMs,
        emitterFlowM3s: gentle.emitterFlowM3s,
      }),
    );
  return { dripline: gentle, reasons };
}

function paramsOf(dripline: Dripline): Problem['params'] {
  return {
    driplineName: dripline.name,
    emitterFlowM3s: dripline.emitterFlowM3s,
    emitterSpacingM: dripline.emitterSpacingM,
  };
}
