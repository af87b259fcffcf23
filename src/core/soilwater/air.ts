/** Air pressure at a height above the sea, kPa. Source: FAO-56 eq. 7. */
export function airPressureKPa(elevationM: number): number {
  return 101.3 * ((293 - 0.0065 * elevationM) / 293) ** 5.26;
}

/** Psychrometric constant, kPa/C. Source: FAO-56 eq. 8. */
export function psychrometricKPaC(pressureKPa: number): number {
  return 0.665e-3 * pressureKPa;
}

/** Vapour pressure of saturated air, kPa, at a temperature. Source: FAO-56 eq. 11. */
export function saturationKPa(temperatureC: number): number {
  return 0.6108 * Math.exp((17.27 * temperatureC) / (temperatureC + 237.3));
}

/** Mean saturation vapour pressure of a day, kPa. Source: FAO-56 eq. 12. */
export function meanSaturationKPa(maxC: number, minC: number): number {
  return (saturationKPa(maxC) + saturationKPa(minC)) / 2;
}

/** Slope of the saturation curve, kPa/C. Source: FAO-56 eq. 13. */
export function saturationSlopeKPaC(temperatureC: number): number {
  return (4098 * saturationKPa(temperatureC)) / (temperatureC + 237.3) ** 2;
}

/** What is known of the air's moisture. Ratios 0..1. */
export type Humidity =
  | { readonly kind: 'vapour-pressure'; readonly kPa: number }
  | { readonly kind: 'dew-point'; readonly dewPointC: number }
  | { readonly kind: 'relative-range'; readonly maxRatio: number; readonly minRatio: number }
  | { readonly kind: 'relative-mean'; readonly meanRatio: number }
  /** Dew point taken at the night's low; in a dry place 2.5 C below it. */
  | { readonly kind: 'missing'; readonly isArid: boolean };

/** Vapour pressure of the air, kPa. Source: FAO-56 eq. 14 (dew point), 17 (range), 19 (mean), 48 (missing). */
export function vapourPressureKPa(humidity: Humidity, maxC: number, minC: number): number {
  switch (humidity.kind) {
    case 'vapour-pressure':
      return humidity.kPa;
    case 'dew-point':
      return saturationKPa(humidity.dewPointC);
    case 'relative-range':
      return (saturationKPa(minC) * humidity.maxRatio + saturationKPa(maxC) * humidity.minRatio) / 2;
    case 'relative-mean':
      return humidity.meanRatio * meanSaturationKPa(maxC, minC);
    case 'missing':
      return saturationKPa(humidity.isArid ? minC - 2.5 : minC);
    default:
      return unreachable(humidity);
  }
}

/** Wind at 2 m above grass from wind at another height, m/s. Range: height > 0.1 m. Source: FAO-56 eq. 47. */
export function windAtTwoMetres(speedMs: number, heightM: number): number {
  return (speedMs * 4.87) / Math.log(67.8 * heightM - 5.42);
}

function unreachable(value: never): never {
  throw new Error(`unknown humidity ${JSON.stringify(value)}`);
}
