import type { Bed, Plan } from '../plan';
import type { Problem, Traced } from '../units';
import { type IntervalInput, ROOT_DEPTH_M, traceStore } from './depletion';
import { type LandscapeCoefficient, landscapeCoefficient, PLANT_CLASSES } from './plantFactors';
import { DAYS_IN_MONTH, type ReferenceEt } from './referenceEt';
import { runoffLimitS, traceRunoff } from './runoff';
import { soilOf } from './soils';
import { SOURCES } from './sources';
import type { ScheduledBed } from './types';

/** Irrigation efficiency of drip that the budget and the schedule share. Source: 23 CCR 492.4. */
export const DRIP_EFFICIENCY_RATIO = 0.81;
/** Share of rain that counts. The optional effective-rain form allows up to a quarter (Vacaville municipal code 48417262). */
export const EFFECTIVE_RAIN_RATIO = 0.25;

/** What one bed wants of the calendar, before the zone's beds are put together. */
export interface BedDemand {
  readonly bedId: string;
  readonly name: string;
  readonly areaM2: number;
  readonly rateMs: number;
  readonly slopeRatio: number;
  readonly coefficient: LandscapeCoefficient;
  /** Plant need by month, m: ET0 x K less the rain that counts. */
  readonly netM: readonly number[];
  /** Depth to give by month, m: net / efficiency x the plan's seasonal share. */
  readonly grossM: readonly number[];
  readonly interval: Omit<IntervalInput, 'needPerDayM'>;
  readonly runLimitS: number;
  readonly intakeMs: number;
  readonly traces: readonly Traced[];
}

/** Need of one month: ET0 x K less effective rain, never below 0, m. */
export function netNeedM(etM: number, coefficientRatio: number, rainM: number): number {
  return Math.max(0, etM * coefficientRatio - EFFECTIVE_RAIN_RATIO * rainM);
}

function traceNeed(bed: BedDemand, month: number, etM: number, rainM: number): readonly Traced[] {
  const netM = bed.netM[month] ?? 0;
  return [
    {
      code: 'soilwater.net-need',
      result: { value: netM, unit: 'm of water' },
      formula: 'need = ET0 x K - 0.25 x rain',
      inputs: [
        { name: 'ET0', quantity: { value: etM, unit: 'm of water' } },
        { name: 'K', quantity: { value: bed.coefficient.coefficientRatio, unit: 'ratio' } },
        { name: 'rain', quantity: { value: rainM, unit: 'm of water' } },
      ],
      source: SOURCES.landscapeCoefficient,
    },
    {
      code: 'soilwater.gross-need',
      result: { value: bed.grossM[month] ?? 0, unit: 'm of water' },
      formula: 'depth to give = need / efficiency x seasonal share',
      inputs: [
        { name: 'need', quantity: { value: netM, unit: 'm of water' } },
        {
          name: 'efficiency',
          quantity: { value: DRIP_EFFICIENCY_RATIO, unit: 'ratio' },
          from: SOURCES.ordinance.text,
        },
      ],
      source: SOURCES.ordinance,
    },
  ];
}

/** What a bed is called: its name, or its id where it has none. */
export function bedNameIn(plan: Plan, bedId: string): string {
  const name = plan.beds[bedId]?.name ?? '';
  return name === '' ? bedId : name;
}

/** Month of the greatest ET, 0..11; the first where two are equal. */
export function peakMonthOf(et: ReferenceEt): number {
  return et.monthlyM.reduce((best, value, index) => (value > (et.monthlyM[best] ?? 0) ? index : best), 0);
}

/** Everything the calendar needs of one bed. A bed unknown to the plan takes the plan's silence: level, usual roots. */
export function demandOf(served: ScheduledBed, plan: Plan, et: ReferenceEt): BedDemand {
  const { choice } = served;
  const bed: Bed | undefined = plan.beds[choice.bedId];
  const slopeRatio = bed?.slopeRatio ?? 0;
  const coefficient = landscapeCoefficient(choice.plants, choice.sun, bed);
  const rainM = plan.site.climate.rainM ?? DAYS_IN_MONTH.map(() => 0);
  const netM = et.monthlyM.map((value, index) =>
    netNeedM(value, coefficient.coefficientRatio, rainM[index] ?? 0),
  );
  const grossM = netM.map((value) => (value / DRIP_EFFICIENCY_RATIO) * plan.site.seasonalRatio);
  const soil = soilOf(choice.soil);
  const available = soil.availableRatio[0];
  const plants = PLANT_CLASSES[choice.plants];
  const interval = {
    availableRatio: available.value,
    rootDepthM: bed?.rootDepthM ?? ROOT_DEPTH_M,
    depletionRatio: plants.depletionRatio,
    wettedRatio: Math.min(1, choice.wettedDiameterM.low / choice.rowSpacingM),
    longestDays: plants.longestIntervalDays,
  };
  const demand: BedDemand = {
    bedId: served.bedId,
    name: bedNameIn(plan, served.bedId),
    areaM2: served.areaM2,
    rateMs: served.applicationRateMs,
    slopeRatio,
    coefficient,
    netM,
    grossM,
    interval,
    runLimitS: runoffLimitS(choice.soil, slopeRatio, served.applicationRateMs),
    intakeMs: soil.intakeMs[0].value,
    traces: [],
  };
  const peak = peakMonthOf(et);
  const runoff = traceRunoff(choice.soil, slopeRatio, served.applicationRateMs);
  return {
    ...demand,
    traces: [
      ...traceNeed(demand, peak, et.monthlyM[peak] ?? 0, rainM[peak] ?? 0),
      traceStore({ ...interval, needPerDayM: 0 }, available.source.text),
      ...(runoff === undefined ? [] : [runoff]),
    ],
  };
}

/** A note that rain was counted, where the plan gives any. */
export function rainNotes(plan: Plan): readonly Problem[] {
  if (plan.site.climate.rainM === null) return [];
  return [
    {
      code: 'soilwater.rain-counted',
      severity: 'note',
      where: {},
      params: { shareRatio: EFFECTIVE_RAIN_RATIO },
      source: SOURCES.effectiveRain,
    },
  ];
}
