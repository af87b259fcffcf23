import type { Plan } from '../plan';
import type { Problem, Traced } from '../units';
import { type BedDemand, bedNameIn, demandOf, peakMonthOf, rainNotes } from './demand';
import { wateringInterval } from './depletion';
import { establishmentOf } from './establishment';
import { DAYS_IN_MONTH, type ReferenceEt, referenceEtFor } from './referenceEt';
import { splitIntoCycles } from './runoff';
import { SOURCES } from './sources';
import { timetableFor } from './timetable';
import type { Schedule, ScheduledBed, ScheduledZone, ZoneMonth, ZoneSchedule } from './types';
import { wholeUp } from './whole';

/** A bed whose neighbours on the valve make it take this much more than it needs is named. Ours, stated. */
const OVERWATERED_RATIO = 1.15;

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/** The bed that needs the valve open longest in a month governs the zone; ties by place in the list. */
function governing(demands: readonly BedDemand[], month: number): BedDemand {
  const first = demands[0];
  if (first === undefined) throw new Error('a zone without beds has no schedule');
  const seconds = (bed: BedDemand): number => (bed.grossM[month] ?? 0) / bed.rateMs;
  return demands.reduce((longest, bed) => (seconds(bed) > seconds(longest) ? bed : longest), first);
}

/** Exact minutes a watering day, and the days, of one zone in one month. */
function zoneMonth(demands: readonly BedDemand[], month: number, allowedDays: number): ZoneMonth {
  const governor = governing(demands, month);
  const days = DAYS_IN_MONTH[month] ?? 30;
  const grossM = governor.grossM[month] ?? 0;
  const secondsPerWeek = ((grossM / days) * 7) / governor.rateMs;
  const intervals = demands.map((bed) =>
    wateringInterval({ ...bed.interval, needPerDayM: (bed.netM[month] ?? 0) / days }),
  );
  const intervalDays = Math.min(...intervals.map((interval) => interval.days));
  const isDry = secondsPerWeek <= 0;
  const wantedDaysPerWeek = isDry ? 0 : wholeUp(7 / intervalDays);
  const daysPerWeek = Math.min(wantedDaysPerWeek, allowedDays);
  const exactMinutes = daysPerWeek === 0 ? 0 : secondsPerWeek / 60 / daysPerWeek;
  const limitS = Math.min(...demands.map((bed) => bed.runLimitS));
  const shortest = demands.find((bed) => bed.runLimitS === limitS) ?? governor;
  const split = splitIntoCycles(exactMinutes, limitS, shortest.rateMs, shortest.intakeMs);
  const minutesPerDay = split.cycles * split.minutesPerCycle;
  return {
    month: month + 1,
    needM: governor.netM[month] ?? 0,
    grossM,
    appliedM: (minutesPerDay * 60 * daysPerWeek * governor.rateMs * days) / 7,
    exactMinutesPerDay: exactMinutes,
    minutesPerDay,
    daysPerWeek,
    wantedDaysPerWeek,
    cycles: split.cycles,
    minutesPerCycle: split.minutesPerCycle,
    soakMinutes: split.soakMinutes,
    intervalDays,
    wantsMoreThanDaily: intervals.some((interval) => interval.isUnderOneDay) && !isDry,
    runLimitS: Number.isFinite(limitS) ? limitS : null,
    seasonalRatio: 0,
  };
}

/** Months as share of the zone's greatest, for a controller's seasonal percent. */
function withSeason(months: readonly ZoneMonth[]): readonly ZoneMonth[] {
  const weekly = months.map((month) => month.exactMinutesPerDay * month.daysPerWeek);
  const peak = Math.max(...weekly);
  return months.map((month, index) => ({
    ...month,
    seasonalRatio: peak > 0 ? (weekly[index] ?? 0) / peak : 0,
  }));
}

function traceMinutes(month: ZoneMonth, rateMs: number): Traced {
  return {
    code: 'soilwater.run-minutes',
    result: { value: month.exactMinutesPerDay * 60, unit: 's' },
    formula: 'run = depth to give / rate x 7 / days of the month / watering days a week',
    inputs: [
      {
        name: 'depth to give',
        quantity: { value: month.grossM, unit: 'm of water' },
        from: 'the need of its beds',
      },
      { name: 'rate', quantity: { value: rateMs, unit: 'm/s' } },
      {
        name: 'days of the month',
        quantity: { value: DAYS_IN_MONTH[month.month - 1] ?? 30, unit: 'count' },
      },
      { name: 'watering days a week', quantity: { value: month.daysPerWeek, unit: 'count' } },
    ],
    source: SOURCES.runTime,
  };
}

/** What a zone's calendar cannot give as wanted. */
function zoneFindings(
  zoneId: string,
  demands: readonly BedDemand[],
  months: readonly ZoneMonth[],
  peak: number,
): readonly Problem[] {
  const found: Problem[] = [];
  const hurried = months.filter((month) => month.wantsMoreThanDaily);
  if (hurried.length > 0)
    found.push({
      code: 'soilwater.more-than-daily',
      severity: 'warn',
      where: { id: zoneId },
      params: { zoneId, months: hurried.map((month) => String(month.month)) },
      source: SOURCES.fao56Depletion,
    });
  const tiny = months.find((month) => month.runLimitS !== null && month.runLimitS < 60 && month.cycles > 0);
  if (tiny !== undefined)
    found.push({
      code: 'soilwater.run-under-a-minute',
      severity: 'warn',
      where: { id: zoneId },
      params: { zoneId, limitS: tiny.runLimitS ?? 0 },
      source: SOURCES.landscapeSurfaceStock,
    });
  const governor = governing(demands, peak);
  const wantedS = (governor.grossM[peak] ?? 0) / governor.rateMs;
  for (const bed of demands) {
    const gross = bed.grossM[peak] ?? 0;
    const times = gross > 0 ? (wantedS * bed.rateMs) / gross : 1;
    if (times > OVERWATERED_RATIO)
      found.push({
        code: 'soilwater.bed-overwatered',
        severity: 'note',
        where: { id: bed.bedId },
        params: { bedName: bed.name, governorName: governor.name, zoneId, overRatio: times - 1 },
        value: times,
        limit: OVERWATERED_RATIO,
        unit: 'ratio',
        source: SOURCES.ours,
      });
  }
  return found;
}

function scheduleZone(
  zone: ScheduledZone,
  demands: readonly BedDemand[],
  et: ReferenceEt,
  plan: Plan,
): { readonly schedule: ZoneSchedule; readonly problems: readonly Problem[] } {
  const peak = peakMonthOf(et);
  const allowedDays = new Set(plan.site.wateringWindow.days).size;
  const months = withSeason(DAYS_IN_MONTH.map((_, month) => zoneMonth(demands, month, allowedDays)));
  const areaM2 = sum(demands.map((bed) => bed.areaM2));
  const applicationRateMs = sum(demands.map((bed) => bed.rateMs * bed.areaM2)) / areaM2;
  const governor = governing(demands, peak);
  const peakMonth = months[peak];
  return {
    schedule: {
      zoneId: zone.zoneId,
      flowM3s: zone.flowM3s,
      areaM2,
      applicationRateMs,
      governingBedId: governor.bedId,
      months,
      establishment: establishmentOf(governor, et, peak, allowedDays),
      traces: [
        ...governor.traces,
        ...(peakMonth === undefined ? [] : [traceMinutes(peakMonth, governor.rateMs)]),
      ],
    },
    problems: zoneFindings(zone.zoneId, demands, months, peak),
  };
}

/** Beds the calendar cannot serve: no rate, or no zone of that id. */
function unservedNotes(
  plan: Plan,
  beds: readonly ScheduledBed[],
  zoneIds: ReadonlySet<string>,
): readonly Problem[] {
  return beds
    .filter((bed) => !(bed.applicationRateMs > 0) || !zoneIds.has(bed.zoneId))
    .map((bed) => ({
      code: 'soilwater.bed-not-scheduled',
      severity: 'warn',
      where: { id: bed.bedId },
      params: { bedName: bedNameIn(plan, bed.bedId) },
    }));
}

/**
 * The watering calendar of a plan: depth, whole minutes, days, cycles and soak by zone and month from the rate as laid,
 * the establishment program, and a week's timetable for every month inside the watering window.
 *
 * @param input.beds             every bed with its rate as laid (m/s), area and zone
 * @param input.zones            every zone with its solved flow, in order of number
 * @param input.usableFlowM3s    what the source gives at once; null: one zone at a time
 * Fails: beds without a rate are listed and left out.
 */
export function buildSchedule(input: {
  readonly plan: Plan;
  readonly beds: readonly ScheduledBed[];
  readonly zones: readonly ScheduledZone[];
  readonly usableFlowM3s: number | null;
}): Schedule {
  const { plan } = input;
  const et = referenceEtFor(plan);
  const zoneIds = new Set(input.zones.map((zone) => zone.zoneId));
  const served = input.beds.filter((bed) => bed.applicationRateMs > 0 && zoneIds.has(bed.zoneId));
  const results = input.zones.flatMap((zone) => {
    const demands = served.filter((bed) => bed.zoneId === zone.zoneId).map((bed) => demandOf(bed, plan, et));
    return demands.length === 0 ? [] : [scheduleZone(zone, demands, et, plan)];
  });
  const zones = results.map((result) => result.schedule);
  const week = timetableFor(zones, plan.site.wateringWindow, input.usableFlowM3s);
  return {
    zones,
    timetable: week.starts,
    referenceEtM: et.monthlyM,
    climate: { kind: et.kind, place: et.place, source: et.source },
    problems: [
      ...et.problems,
      ...rainNotes(plan),
      ...unservedNotes(plan, input.beds, zoneIds),
      ...results.flatMap((result) => result.problems),
      ...week.problems,
    ],
    traces: [...et.traces, ...zones.flatMap((zone) => zone.traces)],
  };
}
