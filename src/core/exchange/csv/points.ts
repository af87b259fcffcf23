import Papa from 'papaparse';
import { emptyPlan, type Plan, plainBed } from '../../plan';
import type { Outcome } from '../../units';
import { checkedPlan } from '../checkedPlan';
import { DRAWING_UNITS, type DrawingUnit } from '../dxf/read';
import { type Georeference, projectorAt } from '../earth';
import { isPlainKey, type Report, startReport } from '../geojson/report';

const MOST_CHARACTERS = 5_000_000;
const MOST_POINTS = 50_000;

/** Headings a column may have, by what it holds; compared without case, spaces and marks. */
const HEADINGS = {
  id: ['id', 'name', 'number', 'point', 'no', 'pt'],
  x: ['x', 'e', 'east', 'easting'],
  y: ['y', 'n', 'north', 'northing'],
  longitude: ['lon', 'long', 'longitude', 'lng'],
  latitude: ['lat', 'latitude'],
  height: ['z', 'elevation', 'height', 'level', 'elev'],
  outline: ['bed', 'outline', 'group', 'area'],
} as const;
type Column = keyof typeof HEADINGS;
type Columns = Readonly<Partial<Record<Column, number>>>;

/** How to read a table of points; without a unit metres are assumed, and that is said. */
export interface PointsOptions {
  readonly fileName: string;
  readonly unit?: DrawingUnit;
}

interface SurveyPoint {
  readonly id: string;
  readonly first: number;
  readonly second: number;
  readonly height: number | null;
  readonly outline: string;
}

/**
 * Reads a table of surveyed points: columns by their headings (x and y, or longitude and latitude; height, id, bed).
 * Points that share a bed's name, in their order, are its outline; the others become spot heights.
 * Every row that cannot be used is named with its line; unit and columns taken are reported.
 */
export function readPointsCsv(text: string, options: PointsOptions): Outcome<Plan> {
  const report = startReport(options.fileName);
  const fail = (code: string, params = {}): Outcome<never> => {
    report.add('stop', code, {}, params);
    return { ok: false, problems: report.problems };
  };
  if (text.length > MOST_CHARACTERS) return fail('table-too-big', { count: MOST_CHARACTERS });
  if (countLines(text, 2 * MOST_POINTS) > 2 * MOST_POINTS)
    return fail('table-too-big', { count: MOST_POINTS });
  const table = Papa.parse<string[]>(text.replace(/^\ufeff/, ''), {
    skipEmptyLines: 'greedy',
    preview: MOST_POINTS + 2,
  });
  if (table.data.length > MOST_POINTS + 1) return fail('table-too-big', { count: MOST_POINTS });
  const columns = findColumns(table.data[0] ?? []);
  const isOnEarth = columns.longitude !== undefined && columns.latitude !== undefined;
  if (!isOnEarth && (columns.x === undefined || columns.y === undefined))
    return fail('table-without-columns');
  const points = readRows(table.data, columns, isOnEarth, report);
  if (points.length === 0) return fail('table-without-points');
  report.add(
    isOnEarth || options.unit ? 'note' : 'warn',
    isOnEarth ? 'table-on-earth' : 'table-unit',
    {},
    {
      unit: options.unit ?? 'm',
      count: points.length,
    },
  );
  const plan = checkedPlan(planOf(points, isOnEarth, options, report), report);
  return plan
    ? { ok: true, value: plan, problems: report.problems }
    : { ok: false, problems: report.problems };
}

/** Lines of a text, counted no further than just past `most`. */
function countLines(text: string, most: number): number {
  let lines = 1;
  for (let at = text.indexOf('\n'); at >= 0 && lines <= most; at = text.indexOf('\n', at + 1)) lines += 1;
  return lines;
}

function findColumns(headings: readonly string[]): Columns {
  const tidy = headings.map((heading) => heading.toLowerCase().replace(/\(.*\)|[^a-z]/g, ''));
  const found = Object.entries(HEADINGS).flatMap(([column, names]) => {
    const at = tidy.findIndex((heading) => (names as readonly string[]).includes(heading));
    return at < 0 ? [] : [[column, at] as const];
  });
  return Object.fromEntries(found);
}

function readRows(
  rows: readonly (readonly string[])[],
  columns: Columns,
  isOnEarth: boolean,
  report: Report,
): readonly SurveyPoint[] {
  const points: SurveyPoint[] = [];
  const taken = new Set<string>();
  const cell = (row: readonly string[], column: Column): string =>
    columns[column] === undefined ? '' : (row[columns[column]] ?? '').trim();
  for (const [i, row] of rows.slice(1).entries()) {
    const first = figureOf(cell(row, isOnEarth ? 'longitude' : 'x'));
    const second = figureOf(cell(row, isOnEarth ? 'latitude' : 'y'));
    const isOff = isOnEarth && (Math.abs(first ?? 0) > 180 || Math.abs(second ?? 0) > 85);
    if (first === null || second === null || isOff) {
      report.add('warn', 'table-bad-row', { line: i + 2 }, { text: row.join(', ').slice(0, 80) });
      continue;
    }
    const own = cell(row, 'id').slice(0, 200);
    const id = own !== '' && isPlainKey(own) && !taken.has(own) ? own : `point-${i + 1}`;
    taken.add(id);
    points.push({
      id,
      first,
      second,
      height: figureOf(cell(row, 'height')),
      outline: cell(row, 'outline').slice(0, 200),
    });
  }
  return points;
}

/** A finite figure within what a plan can hold, or null. */
function figureOf(text: string): number | null {
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d{1,2})?$/i.test(text)) return null;
  const value = Number(text);
  return Math.abs(value) <= 1e7 ? value : null;
}

function planOf(
  points: readonly SurveyPoint[],
  isOnEarth: boolean,
  options: PointsOptions,
  report: Report,
): Plan {
  const metres = DRAWING_UNITS[options.unit ?? 'm'];
  const georeference = isOnEarth ? middleOf(points) : null;
  const projector = georeference && projectorAt(georeference);
  const far = Math.hypot(points[0]!.first, points[0]!.second) * metres > 1e4 && !projector;
  const origin = far
    ? { x: Math.round(points[0]!.first * metres), y: Math.round(points[0]!.second * metres) }
    : { x: 0, y: 0 };
  if (far) report.add('note', 'drawing-moved', {}, { eastM: origin.x, northM: origin.y });
  const placed = points.map((point) => ({
    ...point,
    at: projector
      ? projector.toPlan(point.first, point.second)
      : { x: point.first * metres - origin.x, y: point.second * metres - origin.y },
  }));
  const outlines = new Map<string, (typeof placed)[number][]>();
  for (const point of placed.filter((one) => one.outline !== '' && isPlainKey(one.outline))) {
    const corners = outlines.get(point.outline) ?? [];
    corners.push(point);
    outlines.set(point.outline, corners);
  }
  const beds = [...outlines].flatMap(([name, corners]) => {
    if (corners.length < 3) {
      report.add('warn', 'table-outline-short', { id: name }, { count: corners.length });
      return [];
    }
    const edges = corners.map(() => ({ class: null, offsetM: null, sagittaM: 0 }));
    return [[name, plainBed(name, [{ points: corners.map((corner) => corner.at), edges }], name)] as const];
  });
  const spots = placed
    .filter((point) => point.height !== null)
    .map(({ id, at, height }) => [id, { id, at, elevationM: height! * metres }] as const)
    .filter(([, spot]) => spot.elevationM >= -500 && spot.elevationM <= 9000);
  const stem = options.fileName.replace(/\.csv$/i, '').slice(0, 200) || 'points';
  const plan = emptyPlan(stem);
  return {
    ...plan,
    project: { ...plan.project, title: stem },
    georeference,
    beds: Object.fromEntries(beds),
    spots: Object.fromEntries(spots),
  };
}

/** Middle of the points, to 1e-7 degree. */
function middleOf(points: readonly SurveyPoint[]): Georeference {
  const middle = (values: readonly number[]): number =>
    Math.round(
      ((values.reduce((a, b) => Math.min(a, b)) + values.reduce((a, b) => Math.max(a, b))) / 2) * 1e7,
    ) / 1e7;
  return {
    longitudeDeg: middle(points.map((point) => point.first)),
    latitudeDeg: middle(points.map((point) => point.second)),
    bearingRad: 0,
  };
}
