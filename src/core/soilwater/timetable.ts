import type { Plan } from '../plan';
import type { Problem } from '../units';
import { SOURCES } from './sources';
import type { Start, ZoneMonth, ZoneSchedule } from './types';

const DAY = 1440;
const WEEK = 7 * DAY;

type Window = Plan['site']['wateringWindow'];

/** One zone's work on the days of a week. */
interface Job {
  readonly zoneId: string;
  readonly flowM3s: number;
  readonly month: ZoneMonth;
  readonly days: readonly number[];
}

/** A run already placed, minutes after Sunday midnight; `endMin` may pass the end of the week. */
interface PlacedRun {
  readonly startMin: number;
  readonly endMin: number;
  readonly zoneId: string;
  readonly flowM3s: number;
}

/** The runs of a week. It closes on itself: Saturday night is Sunday's neighbour. */
class WeekOfRuns {
  private readonly runs: PlacedRun[] = [];

  /** Runs that touch a stretch of time, each moved by whole weeks to lie beside it. */
  private touching(startMin: number, minutes: number): readonly PlacedRun[] {
    const found: PlacedRun[] = [];
    for (const run of this.runs) {
      const length = run.endMin - run.startMin;
      const later = (((run.startMin - startMin) % WEEK) + WEEK) % WEEK;
      const moved = later < minutes ? later : later + length > WEEK ? later - WEEK : null;
      if (moved !== null)
        found.push({ ...run, startMin: startMin + moved, endMin: startMin + moved + length });
    }
    return found;
  }

  /** The same minute where the job's run fits there, else the next minute worth trying. A zone never runs beside itself. */
  tryAt(startMin: number, job: Job, usableM3s: number | null): number {
    const beside = this.touching(startMin, job.month.minutesPerCycle);
    if (beside.length === 0) return startMin;
    if (usableM3s === null) return Math.max(...beside.map((run) => run.endMin));
    const own = beside.filter((run) => run.zoneId === job.zoneId);
    if (own.length > 0) return Math.max(...own.map((run) => run.endMin));
    const moments = [startMin, ...beside.map((run) => Math.max(startMin, run.startMin))];
    const isWithin = moments.every((moment) => {
      const running = beside.filter((run) => run.startMin <= moment && run.endMin > moment);
      const flowM3s = running.reduce((sum, run) => sum + run.flowM3s, job.flowM3s);
      return running.length === 0 || flowM3s <= usableM3s * (1 + 1e-9);
    });
    return isWithin ? startMin : Math.min(...beside.map((run) => run.endMin));
  }

  take(startMin: number, job: Job): void {
    this.runs.push({
      startMin,
      endMin: startMin + job.month.minutesPerCycle,
      zoneId: job.zoneId,
      flowM3s: job.flowM3s,
    });
  }
}

/** Every way to take `count` of the days, in order of the calendar. */
function subsets(days: readonly number[], count: number): readonly (readonly number[])[] {
  if (count === 0) return [[]];
  return days.flatMap((day, index) =>
    subsets(days.slice(index + 1), count - 1).map((rest) => [day, ...rest]),
  );
}

/** Longest pause between two chosen days, the week closed on itself. */
function longestPause(days: readonly number[]): number {
  return Math.max(...days.map((day, index) => (days[index + 1] ?? (days[0] ?? 0) + 7) - day));
}

/** Days of a zone: the evenest spread, then those with least minutes already given, then the earliest. */
function chooseDays(
  allowed: readonly number[],
  count: number,
  loadMin: readonly number[],
): readonly number[] {
  const wanted = Math.min(count, allowed.length);
  if (wanted === 0) return [];
  const load = (days: readonly number[]): number => Math.max(...days.map((day) => loadMin[day] ?? 0));
  const [best] = [...subsets(allowed, wanted)].sort(
    (a, b) => longestPause(a) - longestPause(b) || load(a) - load(b),
  );
  return best ?? [];
}

/** Minutes a window stays open; one that ends before it begins runs past midnight. */
export function windowMinutes(window: Window): number {
  const toMin = window.toMin > window.fromMin ? window.toMin : window.toMin + DAY;
  return Math.min(DAY, toMin - window.fromMin);
}

/** Where each run of a week starts, and how far the latest of them runs past its window. */
interface PlacedWeek {
  readonly starts: readonly Start[];
  readonly overMin: number;
}

function placeWeek(
  jobs: readonly Job[],
  window: Window,
  month: number,
  usableFlowM3s: number | null,
): PlacedWeek {
  const week = new WeekOfRuns();
  const open = windowMinutes(window);
  const starts: Start[] = [];
  let overMin = 0;
  for (const day of [...new Set(window.days)].sort((a, b) => a - b)) {
    for (const job of jobs.filter((candidate) => candidate.days.includes(day))) {
      let ready = day * DAY + window.fromMin;
      const opensAt = ready;
      for (let cycle = 0; cycle < job.month.cycles; cycle += 1) {
        const start = firstFit(week, ready, job, usableFlowM3s);
        if (start === null) return { starts, overMin: WEEK };
        week.take(start, job);
        starts.push({
          zoneId: job.zoneId,
          month,
          startMin: start % WEEK,
          minutes: job.month.minutesPerCycle,
        });
        const end = start + job.month.minutesPerCycle;
        overMin = Math.max(overMin, end - (opensAt + open));
        ready = end + job.month.soakMinutes;
      }
    }
  }
  return { starts, overMin };
}

/** First minute at or after `ready` at which the run fits; null where no minute of the week does. */
function firstFit(week: WeekOfRuns, ready: number, job: Job, usableFlowM3s: number | null): number | null {
  let start = ready;
  while (start < ready + WEEK) {
    const next = week.tryAt(start, job, usableFlowM3s);
    if (next === start) return start;
    start = next;
  }
  return null;
}

function jobsOf(zones: readonly ZoneSchedule[], month: number, window: Window): readonly Job[] {
  const loadMin = [0, 0, 0, 0, 0, 0, 0];
  const allowed = [...new Set(window.days)].sort((a, b) => a - b);
  return zones.flatMap((zone) => {
    const plan = zone.months[month];
    if (plan === undefined || plan.wantedDaysPerWeek === 0) return [];
    const days = chooseDays(allowed, plan.daysPerWeek, loadMin);
    for (const day of days) loadMin[day] = (loadMin[day] ?? 0) + plan.minutesPerDay;
    return [{ zoneId: zone.zoneId, flowM3s: zone.flowM3s, month: plan, days }];
  });
}

/** Zones that want more days than the window has, or a shorter pause between them. */
function dayFindings(jobs: readonly Job[], month: number): readonly Problem[] {
  return jobs
    .filter(
      (job) =>
        job.days.length < job.month.wantedDaysPerWeek || longestPause(job.days) > job.month.intervalDays,
    )
    .map((job) => ({
      code: 'soilwater.days-too-few',
      severity: 'warn',
      where: { id: job.zoneId },
      params: {
        zoneId: job.zoneId,
        month,
        wantedCount: job.month.wantedDaysPerWeek,
        givenCount: job.days.length,
        pauseDays: job.days.length === 0 ? 7 : longestPause(job.days),
        intervalDays: job.month.intervalDays,
      },
      source: SOURCES.user,
    }));
}

/** Of findings told month by month, the first for each zone with the months it holds in. */
function byZone(found: readonly Problem[]): readonly Problem[] {
  const zones = [...new Set(found.map((problem) => problem.where.id ?? ''))];
  return zones.flatMap((zoneId) => {
    const own = found.filter((problem) => (problem.where.id ?? '') === zoneId);
    const first = own[0];
    if (first === undefined) return [];
    const months = own.map((problem) => String(problem.params.month ?? ''));
    return [{ ...first, params: { ...first.params, months } }];
  });
}

/**
 * A week's starts for every month. One zone runs at a time; only where that does not fit the window do zones run
 * together, and then never beyond what the source gives. Soaks are filled with other zones' runs. Deterministic.
 * Fails: a week that fits neither way runs past its window and says by how much.
 */
export function timetableFor(
  zones: readonly ZoneSchedule[],
  window: Window,
  usableFlowM3s: number | null,
): { readonly starts: readonly Start[]; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const tooFew: Problem[] = [];
  const together: string[] = [];
  const late: { readonly month: number; readonly overMin: number }[] = [];
  const starts = (zones[0]?.months ?? []).flatMap((_, index) => {
    const month = index + 1;
    const jobs = jobsOf(zones, index, window);
    tooFew.push(...dayFindings(jobs, month));
    const alone = placeWeek(jobs, window, month, null);
    if (alone.overMin <= 0) return alone.starts;
    const shared = usableFlowM3s === null ? alone : placeWeek(jobs, window, month, usableFlowM3s);
    if (shared.overMin < alone.overMin) together.push(String(month));
    const best = shared.overMin < alone.overMin ? shared : alone;
    if (best.overMin > 0) late.push({ month, overMin: best.overMin });
    return best.starts;
  });
  problems.push(...byZone(tooFew));
  if (together.length > 0)
    problems.push({
      code: 'soilwater.zones-run-together',
      severity: 'note',
      where: {},
      params: { months: together, usableFlowM3s: usableFlowM3s ?? 0 },
      source: SOURCES.ours,
    });
  const worst = [...late].sort((a, b) => b.overMin - a.overMin)[0];
  if (worst !== undefined)
    problems.push({
      code: 'soilwater.week-does-not-fit',
      severity: 'warn',
      where: {},
      params: {
        months: late.map((entry) => String(entry.month)),
        month: worst.month,
        overMinutes: worst.overMin,
        windowMinutes: windowMinutes(window),
      },
      value: worst.overMin,
      limit: 0,
      unit: 'min',
      source: SOURCES.user,
    });
  return { starts, problems };
}
