import type { Design } from '../../design';
import { printer, type Traced } from '../../units';
import { calendarWords, figureName, isUnpublished, saySource } from '../../words';
import { type Cell, csvText } from './text';

const DAY_MIN = 1440;

const clock = (minutes: number): string => {
  const inDay = ((minutes % DAY_MIN) + DAY_MIN) % DAY_MIN;
  return `${String(Math.floor(inDay / 60)).padStart(2, '0')}:${String(inDay % 60).padStart(2, '0')}`;
};

/** The figures behind a zone's minutes that no published source stands behind, each with where it is from. */
function restsOnOf(traces: readonly Traced[]): string {
  const unpublished = traces.filter(({ source }) => isUnpublished(source));
  return [
    ...new Set(unpublished.map(({ code, source }) => `${figureName(code)}: ${saySource(source)}`)),
  ].join('; ');
}

/**
 * `schedule.csv`: the watering calendar, a row a zone and month: need, whole minutes a watering day, days a week, cycles with
 * their soak, and the starts of the week as the timetable places them.
 */
export function scheduleCsv(design: Design): string {
  const print = printer(design.plan.display.units);
  const marks = new Map(design.beds.map((bed) => [bed.id, bed.mark]));
  const rows = design.schedule.zones.flatMap((zone) => {
    const drawn = design.supply.zones.find((each) => each.id === zone.zoneId);
    const beds = (drawn?.bedIds ?? []).map((id) => marks.get(id) ?? id).join(' ');
    const restsOn = restsOnOf(zone.traces);
    return zone.months.map((month): readonly Cell[] => [
      drawn?.number ?? zone.zoneId,
      beds,
      calendarWords.months[month.month - 1] ?? month.month,
      print.water(month.needM),
      print.rate(zone.applicationRateMs),
      month.minutesPerDay,
      month.daysPerWeek,
      month.cycles,
      month.minutesPerCycle,
      month.soakMinutes,
      design.schedule.timetable
        .filter((start) => start.zoneId === zone.zoneId && start.month === month.month)
        .map(
          (start) =>
            `${calendarWords.days[Math.floor(start.startMin / DAY_MIN) % 7]} ${clock(start.startMin)}`,
        )
        .join('; '),
      restsOn,
    ]);
  });
  return csvText([[...calendarWords.columns], ...rows]);
}
