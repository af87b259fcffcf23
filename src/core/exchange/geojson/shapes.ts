import type { PlanPoint } from '../../geometry';
import type { Place } from '../../units';
import type { Frame } from './frame';
import { isObject, member, type Report } from './report';

/** Most points of one line or ring that a plan takes. */
const MOST_POINTS = 20_000;
/** Most rings of one outline. */
const MOST_RINGS = 500;

/** A geometry in plan metres, multi-part ones taken apart. Rings do not repeat their first point. */
export type Shape =
  | { readonly kind: 'point'; readonly at: PlanPoint }
  | { readonly kind: 'line'; readonly path: readonly PlanPoint[] }
  | { readonly kind: 'area'; readonly rings: readonly (readonly PlanPoint[])[] };

const PART_OF: Readonly<Record<string, string>> = {
  MultiPoint: 'Point',
  MultiLineString: 'LineString',
  MultiPolygon: 'Polygon',
};

/**
 * Reads a GeoJSON geometry into plan shapes, one a part. Null where nothing of it can stand on a plan; each reason is
 * reported with the path of the coordinate.
 */
export function readShapes(
  geometry: unknown,
  frame: Frame,
  place: Place,
  report: Report,
): readonly Shape[] | null {
  const type = isObject(geometry) ? member(geometry, 'type') : undefined;
  const coordinates = isObject(geometry) ? member(geometry, 'coordinates') : undefined;
  const path = `${place.path}.geometry.coordinates`;
  if (typeof type !== 'string' || !Array.isArray(coordinates) || coordinates.length === 0) {
    report.add(
      'stop',
      'no-geometry',
      { ...place, path: `${place.path}.geometry` },
      { type: String(type ?? '') },
    );
    return null;
  }
  const partType = PART_OF[type];
  const parts = partType ? coordinates.map((part, i) => [part, `${path}[${i}]`]) : [[coordinates, path]];
  const walk: Walk = { frame, place, report };
  const shapes: Shape[] = [];
  for (const [part, at] of parts as [unknown, string][]) {
    const shape = readShape(partType ?? type, part, at, walk);
    if (shape === null) return null;
    shapes.push(shape);
  }
  return shapes;
}

interface Walk {
  readonly frame: Frame;
  readonly place: Place;
  readonly report: Report;
}

function readShape(type: string, coordinates: unknown, path: string, walk: Walk): Shape | null {
  if (type === 'Point') {
    const at = readPosition(coordinates, path, walk);
    return at && { kind: 'point', at };
  }
  if (type === 'LineString') {
    const line = readPoints(coordinates, path, walk);
    if (line && line.length < 2) return refuse('line-too-short', path, walk);
    return line && { kind: 'line', path: line };
  }
  if (type !== 'Polygon') return refuse('geometry-not-taken', path, walk, { type: type.slice(0, 80) });
  if (!Array.isArray(coordinates) || coordinates.length === 0)
    return refuse('no-geometry', path, walk, { type });
  if (coordinates.length > MOST_RINGS) return refuse('too-many-rings', path, walk, { count: MOST_RINGS });
  const rings = coordinates.map((ring, i) => readRing(ring, `${path}[${i}]`, walk));
  return rings.includes(null) ? null : { kind: 'area', rings: rings as PlanPoint[][] };
}

function refuse(code: string, path: string, { place, report }: Walk, params = {}): null {
  report.add('stop', code, { ...place, path }, params);
  return null;
}

/** A ring as drawn, without the repeated closing point. One left open is closed, and that is said. */
function readRing(coordinates: unknown, path: string, walk: Walk): readonly PlanPoint[] | null {
  const points = readPoints(coordinates, path, walk);
  if (!points) return null;
  const first = points[0]!;
  const last = points.at(-1)!;
  if (points.length > 1 && first.x === last.x && first.y === last.y) return points.slice(0, -1);
  walk.report.add('warn', 'ring-not-closed', { ...walk.place, path, x: last.x, y: last.y });
  return points;
}

function readPoints(coordinates: unknown, path: string, walk: Walk): readonly PlanPoint[] | null {
  if (!Array.isArray(coordinates) || coordinates.length === 0) return refuse('no-geometry', path, walk);
  if (coordinates.length > MOST_POINTS) return refuse('too-many-points', path, walk, { count: MOST_POINTS });
  const points: PlanPoint[] = [];
  for (const [i, position] of coordinates.entries()) {
    const point = readPosition(position, `${path}[${i}]`, walk);
    if (!point) return null;
    points.push(point);
  }
  return points;
}

function readPosition(position: unknown, path: string, walk: Walk): PlanPoint | null {
  if (!Array.isArray(position) || position.length < 2 || !position.every((n) => Number.isFinite(n))) {
    return refuse('bad-position', path, walk);
  }
  const fault = walk.frame.fault(position);
  if (fault) return refuse(fault, path, walk, { position: position.slice(0, 2).join(', ') });
  return walk.frame.toPlan(position);
}

/** Reads one position outside a geometry, such as a stub-up given among the properties. */
export function readLonePosition(value: unknown, path: string, frame: Frame, place: Place, report: Report) {
  return readPosition(value, path, { frame, place, report });
}
