/** Solar constant, MJ/m2/min. Source: FAO-56 eq. 21. */
const SOLAR_CONSTANT = 0.082;
/** Stefan-Boltzmann, MJ/K4/m2/day. Source: FAO-56 eq. 39. */
const STEFAN_BOLTZMANN = 4.903e-9;
/** FAO-56 rounds 273.15 so in eq. 39. */
const KELVIN_OFFSET = 273.16;
/** Reflection of the reference grass. Source: FAO-56 eq. 38. */
const ALBEDO = 0.23;

/** Declination of the sun (rad) on a day of the year 1..366. Source: FAO-56 eq. 24. */
export function solarDeclinationRad(dayOfYear: number): number {
  return 0.409 * Math.sin((2 * Math.PI * dayOfYear) / 365 - 1.39);
}

/** Sunset hour angle (rad): 0 in polar night, pi in polar day. Source: FAO-56 eq. 25. */
export function sunsetHourAngleRad(latitudeRad: number, dayOfYear: number): number {
  const cosine = -Math.tan(latitudeRad) * Math.tan(solarDeclinationRad(dayOfYear));
  return Math.acos(Math.min(1, Math.max(-1, cosine)));
}

/** Radiation above the air, MJ/m2/day, on a day of the year at a latitude. Source: FAO-56 eq. 21-25. */
export function extraterrestrialRadiationMJm2(latitudeRad: number, dayOfYear: number): number {
  const nearness = 1 + 0.033 * Math.cos((2 * Math.PI * dayOfYear) / 365);
  const declination = solarDeclinationRad(dayOfYear);
  const sunset = sunsetHourAngleRad(latitudeRad, dayOfYear);
  const lit =
    sunset * Math.sin(latitudeRad) * Math.sin(declination) +
    Math.cos(latitudeRad) * Math.cos(declination) * Math.sin(sunset);
  return ((24 * 60) / Math.PI) * SOLAR_CONSTANT * nearness * lit;
}

/** Hours between sunrise and sunset. Source: FAO-56 eq. 34. */
export function daylightHours(latitudeRad: number, dayOfYear: number): number {
  return (24 / Math.PI) * sunsetHourAngleRad(latitudeRad, dayOfYear);
}

/** Radiation at the ground (MJ/m2/day) from hours of bright sun. Source: FAO-56 eq. 35 with a = 0.25, b = 0.50. */
export function radiationFromSunshine(sunHours: number, dayHours: number, aboveAirMJm2: number): number {
  return (0.25 + (0.5 * sunHours) / dayHours) * aboveAirMJm2;
}

/** Radiation under a clear sky, MJ/m2/day. Source: FAO-56 eq. 37. */
export function clearSkyRadiation(elevationM: number, aboveAirMJm2: number): number {
  return (0.75 + 2e-5 * elevationM) * aboveAirMJm2;
}

/**
 * Radiation at the ground (MJ/m2/day) where only temperatures are known, never above a clear sky.
 * Source: FAO-56 eq. 50, with 0.16 inland and 0.19 at the coast.
 */
export function radiationFromTemperature(
  maxC: number,
  minC: number,
  isCoastal: boolean,
  aboveAirMJm2: number,
  clearSkyMJm2: number,
): number {
  const share = (isCoastal ? 0.19 : 0.16) * Math.sqrt(Math.max(0, maxC - minC));
  return Math.min(share * aboveAirMJm2, clearSkyMJm2);
}

/** Short-wave radiation kept by the reference grass, MJ/m2/day. Source: FAO-56 eq. 38. */
export function netShortwave(groundMJm2: number): number {
  return (1 - ALBEDO) * groundMJm2;
}

/** Long-wave radiation lost to the sky, MJ/m2/day; Rs/Rso is held at 1 at most. Source: FAO-56 eq. 39. */
export function netLongwave(
  maxC: number,
  minC: number,
  vapourPressureKPa: number,
  groundMJm2: number,
  clearSkyMJm2: number,
): number {
  const warmth = ((maxC + KELVIN_OFFSET) ** 4 + (minC + KELVIN_OFFSET) ** 4) / 2;
  const clearness = clearSkyMJm2 > 0 ? Math.min(1, groundMJm2 / clearSkyMJm2) : 0;
  return STEFAN_BOLTZMANN * warmth * (0.34 - 0.14 * Math.sqrt(vapourPressureKPa)) * (1.35 * clearness - 0.35);
}
