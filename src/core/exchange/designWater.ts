import type { Schedule, WaterBudget } from '../soilwater';

/** The calendar as design.json gives it: one entry a zone and month, the first weeks, and the week's starts. */
export function scheduleJson(schedule: Schedule) {
  return {
    referenceEtM: schedule.referenceEtM,
    zones: schedule.zones.map((zone) => ({
      zoneId: zone.zoneId,
      applicationRateMs: zone.applicationRateMs,
      governingBedId: zone.governingBedId,
      months: zone.months.map((month) => ({
        month: month.month,
        needM: month.needM,
        grossM: month.grossM,
        appliedM: month.appliedM,
        minutesPerDay: month.minutesPerDay,
        daysPerWeek: month.daysPerWeek,
        cycles: month.cycles,
        minutesPerCycle: month.minutesPerCycle,
        soakMinutes: month.soakMinutes,
      })),
      establishment: zone.establishment.map((week) => ({
        week: week.week,
        minutesPerDay: week.minutesPerDay,
        daysPerWeek: week.daysPerWeek,
        cycles: week.cycles,
        minutesPerCycle: week.minutesPerCycle,
        soakMinutes: week.soakMinutes,
      })),
    })),
    timetable: schedule.timetable.map(({ zoneId, month, startMin, minutes }) => ({
      zoneId,
      month,
      startMin,
      minutes,
    })),
  };
}

/** The water budget as design.json gives it: the limit, the estimate, and what each hydrozone adds. */
export function waterBudgetJson(budget: WaterBudget) {
  return {
    regionKey: budget.regionKey,
    regionSource: budget.regionSource.text,
    annualEtM: budget.annualEtM,
    landscapeAreaM2: budget.landscapeAreaM2,
    specialAreaM2: budget.specialAreaM2,
    limitEtafRatio: budget.limitEtafRatio,
    averageEtafRatio: budget.averageEtafRatio,
    allowanceM3: budget.allowanceM3,
    estimatedUseM3: budget.estimatedUseM3,
    hydrozones: budget.hydrozones.map((zone) => ({
      zoneId: zone.zoneId,
      name: zone.name,
      plantFactor: zone.plantFactor,
      irrigationEfficiency: zone.irrigationEfficiency,
      areaM2: zone.areaM2,
      etafRatio: zone.etafRatio,
      etwuM3: zone.etwuM3,
      special: zone.special,
    })),
    savingAgainstSprayM3: budget.savingAgainstSprayM3,
  };
}
