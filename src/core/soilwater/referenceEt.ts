import type { Plan } from '../plan';
import type { Problem, Source, Traced } from '../units';
import { ASSUMED_CLIMATE_KEY, CLIMATE_TABLES, climateTableFor } from './climateTables';
import { hargreavesMmDay, monthlySoilHeat, penmanMonteith, type Weather } from './penmanMonteith';
import { extraterrestrialRadiationMJm2 } from './radiation';
import { SOURCES } from './sources';

/** Days of each month in a common year, January first. */
export const DAYS_IN_MONTH = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;
/** Day of the year in the middle of each month. Source: FAO-56 eq. 25 note. */
export const MIDDLE_DAY = [15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349] as const;

/** Monthly reference ET with what is known of its making. */
export interface ReferenceEt {
  /** Twelve totals, metres of water, January first. */
  readonly monthlyM: readonly number[];
  readonly annualM: number;
  readonly kind: 'typed' | 'picked' | 'assumed';
  readonly place: string;
  readonly source: Source;
  readonly problems: readonly Problem[];
  readonly traces: readonly Traced[];
}

function etFrom(
  kind: ReferenceEt['kind'],
  place: string,
  monthlyM: readonly number[],
  source: Source,
  problems: readonly Problem[],
): ReferenceEt {
  const annualM = monthlyM.reduce((sum, month) => sum + month, 0);
  const trace: Traced = {
    code: 'soilwater.annual-reference-et',
    result: { value: annualM, unit: 'm of water' },
    formula: 'ET0 = sum of the twelve months',
    inputs: monthlyM.map((value, index) => ({
      name: `month ${index + 1}`,
      quantity: { value, unit: 'm of water' },
    })),
    source,
  };
  return { monthlyM, annualM, kind, place, source, problems, traces: [trace] };
}

/**
 * The reference ET a plan is designed for: as typed, else the table of its place, else an assumed table with a note.
 * A place that names no table is said, not guessed.
 */
export function referenceEtFor(plan: Plan): ReferenceEt {
  const { climate } = plan.site;
  if (climate.referenceEtM !== null) {
    const source: Source = climate.source === '' ? SOURCES.user : { text: climate.source, standing: 'user' };
    return etFrom('typed', climate.place, climate.referenceEtM, source, []);
  }
  const picked = climateTableFor(climate.place);
  if (picked !== undefined) {
    const problems: Problem[] =
      picked.source.standing === 'from memory'
        ? [
            {
              code: 'soilwater.climate-from-memory',
              severity: 'note',
              where: {},
              params: { place: picked.place },
              source: picked.source,
            },
          ]
        : [];
    return etFrom('picked', picked.place, picked.monthlyM, picked.source, problems);
  }
  const assumed = CLIMATE_TABLES.find((table) => table.key === ASSUMED_CLIMATE_KEY);
  if (assumed === undefined) throw new Error('the assumed climate has no table');
  return etFrom('assumed', assumed.place, assumed.monthlyM, assumed.source, [
    {
      code: 'soilwater.climate-assumed',
      severity: 'warn',
      where: {},
      params: { place: assumed.place, wanted: climate.place },
      source: SOURCES.ours,
    },
  ]);
}

/** Twelve months of weather at a place. */
export interface YearOfWeather {
  readonly latitudeRad: number;
  readonly elevationM: number;
  readonly months: readonly Weather[];
}

/** Monthly reference ET computed from weather, metres of water, with the months that could not be used. */
export interface ComputedEt {
  readonly monthlyM: readonly number[];
  readonly problems: readonly Problem[];
  readonly traces: readonly Traced[];
}

function weatherProblem(month: number, code: string, value: number): Problem {
  return {
    code,
    severity: 'stop',
    where: { path: `months[${month - 1}]` },
    params: { month, value },
  };
}

/** What is wrong with a month's weather: limits are the records of the Earth, widened. */
function problemsOfWeather(weather: Weather, month: number): readonly Problem[] {
  const problems: Problem[] = [];
  const { maxC, minC, humidity, sunlight, wind } = weather;
  if (!(maxC >= minC))
    problems.push(weatherProblem(month, 'soilwater.weather-temperatures-swapped', maxC - minC));
  for (const value of [maxC, minC])
    if (!(value > -80 && value < 65))
      problems.push(weatherProblem(month, 'soilwater.weather-temperature-range', value));
  const ratios =
    humidity.kind === 'relative-mean'
      ? [humidity.meanRatio]
      : humidity.kind === 'relative-range'
        ? [humidity.maxRatio, humidity.minRatio]
        : [];
  for (const value of ratios)
    if (!(value >= 0 && value <= 1))
      problems.push(weatherProblem(month, 'soilwater.weather-humidity-range', value));
  if (humidity.kind === 'vapour-pressure' && !(humidity.kPa >= 0 && humidity.kPa < 10))
    problems.push(weatherProblem(month, 'soilwater.weather-humidity-range', humidity.kPa));
  if (humidity.kind === 'dew-point' && !(humidity.dewPointC > -100 && humidity.dewPointC < 40))
    problems.push(weatherProblem(month, 'soilwater.weather-humidity-range', humidity.dewPointC));
  if (sunlight.kind === 'sunshine-hours' && !(sunlight.hours >= 0 && sunlight.hours <= 24))
    problems.push(weatherProblem(month, 'soilwater.weather-sun-range', sunlight.hours));
  if (sunlight.kind === 'radiation' && !(sunlight.MJm2 >= 0 && sunlight.MJm2 <= 50))
    problems.push(weatherProblem(month, 'soilwater.weather-sun-range', sunlight.MJm2));
  if (
    wind !== null &&
    !(wind.speedMs >= 0 && wind.speedMs < 100 && wind.heightM >= 0.5 && wind.heightM < 200)
  )
    problems.push(weatherProblem(month, 'soilwater.weather-wind-range', wind.speedMs));
  return problems;
}

/**
 * Reference ET by month from the weather of a year, by FAO-56 Penman-Monteith or by Hargreaves.
 * Month n's soil heat comes from the months beside it; December and January are neighbours.
 * Fails: months out of range are listed and give 0.
 */
export function computeReferenceEt(
  year: YearOfWeather,
  method: 'penman-monteith' | 'hargreaves',
): ComputedEt {
  const problems = year.months.flatMap((weather, index) => problemsOfWeather(weather, index + 1));
  if (year.months.length !== 12)
    problems.push(weatherProblem(1, 'soilwater.weather-twelve-months', year.months.length));
  if (problems.length > 0) return { monthlyM: DAYS_IN_MONTH.map(() => 0), problems, traces: [] };
  const means = year.months.map((weather) => (weather.maxC + weather.minC) / 2);
  const perDayMm = year.months.map((weather, index) => {
    const dayOfYear = MIDDLE_DAY[index] ?? 15;
    if (method === 'hargreaves')
      return hargreavesMmDay(
        weather.maxC,
        weather.minC,
        extraterrestrialRadiationMJm2(year.latitudeRad, dayOfYear),
      );
    const heat = monthlySoilHeat(means[(index + 11) % 12] ?? 0, means[(index + 1) % 12] ?? 0);
    const place = { latitudeRad: year.latitudeRad, elevationM: year.elevationM, dayOfYear };
    return penmanMonteith(weather, place, heat).etMmDay;
  });
  const monthlyM = perDayMm.map((mm, index) => (mm / 1000) * (DAYS_IN_MONTH[index] ?? 30));
  return { monthlyM, problems, traces: monthlyM.map((value, index) => traceMonth(value, index, method)) };
}

function traceMonth(value: number, index: number, method: 'penman-monteith' | 'hargreaves'): Traced {
  const isPenman = method === 'penman-monteith';
  return {
    code: 'soilwater.monthly-reference-et',
    result: { value, unit: 'm of water' },
    formula: isPenman
      ? 'ET0 = days x [0.408 D (Rn - G) + g 900/(T+273) u2 (es - ea)] / [D + g (1 + 0.34 u2)]'
      : 'ET0 = days x 0.0023 (T + 17.8) sqrt(Tmax - Tmin) Ra',
    inputs: [
      { name: 'month', quantity: { value: index + 1, unit: 'count' } },
      { name: 'days', quantity: { value: DAYS_IN_MONTH[index] ?? 30, unit: 'count' } },
    ],
    source: isPenman ? SOURCES.fao56PenmanMonteith : SOURCES.fao56Hargreaves,
  };
}
