import type { PlanPoint } from '../../geometry';
import { type Georeference, projectorAt } from '../earth';
import { isObject, member, type Report } from './report';

/** Most degrees of latitude a plan drawn at the poles could reach; transverse Mercator and the plan's schema stop there. */
const MOST_LATITUDE_DEG = 85;
/** Features further apart than this are not one site (about 50 km of latitude). */
const WIDEST_SPREAD_DEG = 0.45;
/** Farthest a plan point may lie from the plan's origin, metres: the plan's own limit. */
const FARTHEST_M = 1e6;

/** How positions of a file become plan points. `turnRad` is the bearing of the plan's +y in the file's frame. */
export interface Frame {
  readonly georeference: Georeference | null;
  readonly turnRad: number;
  /** Says why a position cannot be on a plan, or null. */
  readonly fault: (position: readonly number[]) => 'off-the-earth' | 'off-the-plan' | null;
  readonly toPlan: (position: readonly number[]) => PlanPoint;
}

/**
 * Finds the frame of a feature collection: WGS84, or local metres where the member "rillsheet" says so.
 * Without a stated origin a WGS84 plan is centred on the middle of what it holds, north up.
 * Reports and answers null: an unknown frame, another reference system, features too far apart for one site.
 */
export function readFrame(collection: Readonly<Record<string, unknown>>, report: Report): Frame | null {
  const ours = member(collection, 'rillsheet');
  const said = isObject(ours) ? member(ours, 'frame') : undefined;
  const stated = readGeoreference(isObject(ours) ? member(ours, 'georeference') : undefined, report);
  if (stated === undefined) return null;
  if (said === 'local-metres') return localFrame(stated);
  if (said !== undefined && said !== 'wgs84') {
    report.add('stop', 'unknown-frame', { path: 'rillsheet.frame' }, { frame: String(said).slice(0, 80) });
    return null;
  }
  const system = referenceSystem(member(collection, 'crs'));
  if (system !== null) {
    report.add('stop', 'other-reference-system', { path: 'crs' }, { system });
    return null;
  }
  const georeference = stated ?? middleOf(member(collection, 'features'), report);
  return georeference && earthFrame(georeference);
}

function localFrame(georeference: Georeference | null): Frame {
  return {
    georeference,
    turnRad: 0,
    fault: ([x, y]) => (Math.abs(x!) > FARTHEST_M || Math.abs(y!) > FARTHEST_M ? 'off-the-plan' : null),
    toPlan: ([x, y]) => ({ x: x!, y: y! }),
  };
}

function earthFrame(georeference: Georeference): Frame {
  const projector = projectorAt(georeference);
  return {
    georeference,
    turnRad: georeference.bearingRad,
    fault: (position) => (isOnEarth(position) ? null : 'off-the-earth'),
    toPlan: ([lon, lat]) => projector.toPlan(lon!, lat!),
  };
}

const isOnEarth = ([lon, lat]: readonly number[]): boolean =>
  Math.abs(lon!) <= 180 && Math.abs(lat!) <= MOST_LATITUDE_DEG;

/** Null: none stated. Undefined: stated badly, and reported. */
function readGeoreference(value: unknown, report: Report): Georeference | null | undefined {
  if (value === undefined || value === null) return null;
  const numbers = isObject(value)
    ? ['longitudeDeg', 'latitudeDeg', 'bearingDeg'].map(
        (key) => member(value, key) ?? (key === 'bearingDeg' ? 0 : null),
      )
    : [];
  const [longitudeDeg, latitudeDeg, bearingDeg] = numbers;
  if (
    typeof longitudeDeg === 'number' &&
    typeof latitudeDeg === 'number' &&
    typeof bearingDeg === 'number' &&
    isOnEarth([longitudeDeg, latitudeDeg])
  ) {
    return { longitudeDeg, latitudeDeg, bearingRad: (bearingDeg * Math.PI) / 180 };
  }
  report.add('stop', 'bad-georeference', { path: 'rillsheet.georeference' });
  return undefined;
}

/** Name of a stated reference system that is not WGS84 longitude and latitude; null where there is none. */
function referenceSystem(crs: unknown): string | null {
  const properties = isObject(crs) ? member(crs, 'properties') : undefined;
  const name = isObject(properties) ? member(properties, 'name') : undefined;
  if (typeof name !== 'string') return null;
  return /(CRS84|EPSG:+4326|WGS ?84)$/i.test(name) ? null : name.slice(0, 80);
}

/** Middle of the box round every position on the earth, to 1e-7 degree so that the origin has short digits. */
function middleOf(features: unknown, report: Report): Georeference | null {
  const box = { west: 181, east: -181, south: 91, north: -91 };
  for (const position of positionsIn(features)) {
    if (!isOnEarth(position)) continue;
    box.west = Math.min(box.west, position[0]!);
    box.east = Math.max(box.east, position[0]!);
    box.south = Math.min(box.south, position[1]!);
    box.north = Math.max(box.north, position[1]!);
  }
  if (box.west > 180) return { longitudeDeg: 0, latitudeDeg: 0, bearingRad: 0 };
  if (box.east - box.west > WIDEST_SPREAD_DEG || box.north - box.south > WIDEST_SPREAD_DEG) {
    report.add('stop', 'spread-too-wide', { path: 'features' });
    return null;
  }
  const short = (degrees: number): number => Math.round(degrees * 1e7) / 1e7;
  return {
    longitudeDeg: short((box.west + box.east) / 2),
    latitudeDeg: short((box.south + box.north) / 2),
    bearingRad: 0,
  };
}

/** Every pair of numbers in the coordinates of the features, whatever the geometry; depth is limited by the reader. */
function* positionsIn(features: unknown): Generator<readonly number[]> {
  const waiting: unknown[] = [];
  for (const feature of Array.isArray(features) ? features : []) {
    const geometry = isObject(feature) ? member(feature, 'geometry') : undefined;
    if (isObject(geometry)) waiting.push(member(geometry, 'coordinates'));
  }
  while (waiting.length > 0) {
    const value = waiting.pop();
    if (!Array.isArray(value)) continue;
    if (typeof value[0] === 'number' && typeof value[1] === 'number') yield value as number[];
    else for (const part of value) waiting.push(part);
  }
}
