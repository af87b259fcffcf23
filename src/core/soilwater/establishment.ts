import type { BedDemand } from './demand';
import { DRIP_EFFICIENCY_RATIO, netNeedM } from './demand';
import { DAYS_IN_MONTH, type ReferenceEt } from './referenceEt';
import { splitIntoCycles } from './runoff';
import type { EstablishmentWeek } from './types';

/** Factor of new plants with roots no deeper than their pots. Common practice, no source. */
const NEW_PLANT_RATIO = 0.8;
/** Weeks, share of the way from new to established, watering days. Common practice, no source. */
const STAGES: readonly {
  readonly weeks: readonly number[];
  readonly share: number;
  readonly days: number;
}[] = [
  { weeks: [1, 2], share: 0, days: 7 },
  { weeks: [3, 4], share: 0, days: 4 },
  { weeks: [5, 6, 7, 8], share: 0.5, days: 3 },
  { weeks: [9, 10, 11, 12], share: 1, days: 2 },
];

/**
 * The first twelve weeks after planting, at the year's greatest ET: small amounts daily to begin with, then deeper and
 * rarer until the plants' own factor is reached. Plants of higher need than a new plant keep their own factor.
 * Days never exceed those the watering window allows. Common practice, no source.
 */
export function establishmentOf(
  bed: BedDemand,
  et: ReferenceEt,
  peakMonth: number,
  allowedDays: number,
): readonly EstablishmentWeek[] {
  const established = bed.coefficient.coefficientRatio;
  const fresh = Math.max(established, NEW_PLANT_RATIO * bed.coefficient.microclimateRatio);
  const days = DAYS_IN_MONTH[peakMonth] ?? 30;
  return STAGES.flatMap(({ weeks, share, days: wantedDays }) => {
    const coefficient = fresh + (established - fresh) * share;
    const weeklyM =
      (netNeedM(et.monthlyM[peakMonth] ?? 0, coefficient, 0) / DRIP_EFFICIENCY_RATIO / days) * 7;
    const daysPerWeek = Math.min(wantedDays, allowedDays);
    const minutes = daysPerWeek > 0 ? weeklyM / bed.rateMs / 60 / daysPerWeek : 0;
    const split = splitIntoCycles(minutes, bed.runLimitS, bed.rateMs, bed.intakeMs);
    return weeks.map((week) => ({
      week,
      minutesPerDay: split.cycles * split.minutesPerCycle,
      daysPerWeek,
      cycles: split.cycles,
      minutesPerCycle: split.minutesPerCycle,
      soakMinutes: split.soakMinutes,
    }));
  });
}
