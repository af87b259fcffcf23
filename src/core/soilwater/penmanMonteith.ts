import {
  airPressureKPa,
  type Humidity,
  meanSaturationKPa,
  psychrometricKPaC,
  saturationSlopeKPaC,
  vapourPressureKPa,
  windAtTwoMetres,
} from './air';
import {
  clearSkyRadiation,
  daylightHours,
  extraterrestrialRadiationMJm2,
  netLongwave,
  netShortwave,
  radiationFromSunshine,
  radiationFromTemperature,
} from './radiation';

/** What is known of the sun. */
export type Sunlight =
  | { readonly kind: 'sunshine-hours'; readonly hours: number }
  | { readonly kind: 'radiation'; readonly MJm2: number }
  | { readonly kind: 'missing'; readonly isCoastal: boolean };

/** Mean weather of a day or of a month's days. Temperatures in degrees Celsius, as the method is fitted in them. */
export interface Weather {
  readonly maxC: number;
  readonly minC: number;
  readonly humidity: Humidity;
  readonly sunlight: Sunlight;
  /** Null where no wind was measured: 2 m/s is taken, as FAO-56 advises. */
  readonly wind: { readonly speedMs: number; readonly heightM: number } | null;
}

/** Where and when, for the height of the sun and the pressure of the air. */
export interface SunPlace {
  readonly latitudeRad: number;
  readonly elevationM: number;
  readonly dayOfYear: number;
}

/** Each step of one Penman-Monteith computation, so that it can be checked line by line. Depths mm/day, energy MJ/m2/day. */
export interface PenmanMonteith {
  readonly meanC: number;
  readonly pressureKPa: number;
  readonly psychrometricKPaC: number;
  readonly slopeKPaC: number;
  readonly saturationKPa: number;
  readonly vapourPressureKPa: number;
  readonly windMs: number;
  readonly aboveAirMJm2: number;
  readonly groundMJm2: number;
  readonly clearSkyMJm2: number;
  readonly netShortMJm2: number;
  readonly netLongMJm2: number;
  readonly netMJm2: number;
  readonly soilHeatMJm2: number;
  readonly radiationTermMmDay: number;
  readonly windTermMmDay: number;
  readonly etMmDay: number;
}

/** FAO-56 advises a floor on wind of 0.5 m/s, and 2 m/s where it is unknown. */
const LEAST_WIND_MS = 0.5;
const UNKNOWN_WIND_MS = 2;

function groundRadiation(weather: Weather, place: SunPlace, aboveAir: number, clearSky: number): number {
  const { sunlight } = weather;
  if (sunlight.kind === 'radiation') return sunlight.MJm2;
  if (sunlight.kind === 'sunshine-hours') {
    const dayHours = daylightHours(place.latitudeRad, place.dayOfYear);
    return dayHours > 0 ? radiationFromSunshine(sunlight.hours, dayHours, aboveAir) : 0;
  }
  return radiationFromTemperature(weather.maxC, weather.minC, sunlight.isCoastal, aboveAir, clearSky);
}

/**
 * Reference evapotranspiration of short grass, with every step.
 * Soil heat is 0 for a day and 0.07 (next - previous mean temperature) for a month (eq. 42, 43): given by the caller.
 * Range: everywhere on land; never below 0. Source: FAO-56 eq. 6.
 */
export function penmanMonteith(weather: Weather, place: SunPlace, soilHeatMJm2 = 0): PenmanMonteith {
  const { maxC, minC } = weather;
  const meanC = (maxC + minC) / 2;
  const pressureKPa = airPressureKPa(place.elevationM);
  const gamma = psychrometricKPaC(pressureKPa);
  const slopeKPaC = saturationSlopeKPaC(meanC);
  const saturationKPa = meanSaturationKPa(maxC, minC);
  const moistKPa = vapourPressureKPa(weather.humidity, maxC, minC);
  const measuredWindMs =
    weather.wind === null ? UNKNOWN_WIND_MS : windAtTwoMetres(weather.wind.speedMs, weather.wind.heightM);
  const windMs = Math.max(LEAST_WIND_MS, measuredWindMs);
  const aboveAirMJm2 = extraterrestrialRadiationMJm2(place.latitudeRad, place.dayOfYear);
  const clearSkyMJm2 = clearSkyRadiation(place.elevationM, aboveAirMJm2);
  const groundMJm2 = groundRadiation(weather, place, aboveAirMJm2, clearSkyMJm2);
  const netShortMJm2 = netShortwave(groundMJm2);
  const netLongMJm2 = netLongwave(maxC, minC, moistKPa, groundMJm2, clearSkyMJm2);
  const netMJm2 = netShortMJm2 - netLongMJm2;
  const share = slopeKPaC + gamma * (1 + 0.34 * windMs);
  const radiationTermMmDay = (0.408 * slopeKPaC * (netMJm2 - soilHeatMJm2)) / share;
  const windTermMmDay = (gamma * (900 / (meanC + 273)) * windMs * (saturationKPa - moistKPa)) / share;
  return {
    meanC,
    pressureKPa,
    psychrometricKPaC: gamma,
    slopeKPaC,
    saturationKPa,
    vapourPressureKPa: moistKPa,
    windMs,
    aboveAirMJm2,
    groundMJm2,
    clearSkyMJm2,
    netShortMJm2,
    netLongMJm2,
    netMJm2,
    soilHeatMJm2,
    radiationTermMmDay,
    windTermMmDay,
    etMmDay: Math.max(0, radiationTermMmDay + windTermMmDay),
  };
}

/** Heat going into the ground in a month (MJ/m2/day) from the mean temperatures beside it. Source: FAO-56 eq. 43. */
export function monthlySoilHeat(previousMeanC: number, nextMeanC: number): number {
  return 0.07 * (nextMeanC - previousMeanC);
}

/**
 * Reference evapotranspiration from temperatures alone, mm/day: 0.0023 (mean + 17.8) sqrt(max - min) Ra, Ra in mm/day.
 * Range: a stand-in where humidity, wind and sun are unknown; too high in humid air, too low above 3 m/s of wind.
 * Source: FAO-56 eq. 52.
 */
export function hargreavesMmDay(maxC: number, minC: number, aboveAirMJm2: number): number {
  const meanC = (maxC + minC) / 2;
  const swing = Math.sqrt(Math.max(0, maxC - minC));
  return Math.max(0, 0.0023 * (meanC + 17.8) * swing * 0.408 * aboveAirMJm2);
}
