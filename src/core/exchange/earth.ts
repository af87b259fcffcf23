import proj4 from 'proj4';
import type { PlanPoint } from '../geometry';
import type { Georeference } from '../plan';

export type { Georeference };

/** Turns WGS84 longitude and latitude (degrees) into plan metres and back. */
export interface Projector {
  readonly toPlan: (longitudeDeg: number, latitudeDeg: number) => PlanPoint;
  readonly toEarth: (at: PlanPoint) => readonly [longitudeDeg: number, latitudeDeg: number];
}

const METRES_STEP = 1e-4;
const DEGREES_STEP = 1e-9;
const toStep = (value: number, step: number): number => Math.round(value / step) / Math.round(1 / step) + 0;

/**
 * Transverse Mercator centred on the plan's own origin, scale 1 there: within 10 km of it lengths are true to 1.3 parts
 * in a million. The plan's +y points along `bearingRad`, clockwise from north.
 * Plan points come back on the 0.1 mm grid, degrees to nine decimals (0.1 mm).
 * Source: EPSG Guidance Note 7-2, Transverse Mercator (as proj4 carries it out).
 */
export function projectorAt(georeference: Georeference): Projector {
  const { longitudeDeg, latitudeDeg, bearingRad } = georeference;
  const plane = proj4(
    'EPSG:4326',
    `+proj=tmerc +lat_0=${latitudeDeg} +lon_0=${longitudeDeg} +k=1 +x_0=0 +y_0=0 +datum=WGS84 +units=m +no_defs`,
  );
  const cos = Math.cos(bearingRad);
  const sin = Math.sin(bearingRad);
  return {
    toPlan: (lon, lat) => {
      const [east, north] = plane.forward([lon, lat]) as [number, number];
      return {
        x: toStep(east * cos - north * sin, METRES_STEP),
        y: toStep(east * sin + north * cos, METRES_STEP),
      };
    },
    toEarth: ({ x, y }) => {
      const [lon, lat] = plane.inverse([x * cos + y * sin, -x * sin + y * cos]) as [number, number];
      return [toStep(lon, DEGREES_STEP), toStep(lat, DEGREES_STEP)];
    },
  };
}
