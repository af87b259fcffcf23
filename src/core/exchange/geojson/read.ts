import { emptyPlan, type Plan, parseJsonText } from '../../plan';
import type { Outcome, Place } from '../../units';
import { checkedPlan } from '../checkedPlan';
import { buildBeds } from './bed';
import { type Frame, readFrame } from './frame';
import { type Ids, startIds } from './ids';
import { type Built, ITEM_BUILDERS } from './items';
import { type Properties, propertiesOf } from './properties';
import { isObject, member, type Report, startReport } from './report';
import { readShapes, type Shape } from './shapes';
import { placeStubUps, type StubUpPoint } from './stubUps';

const MOST_FEATURES = 50_000;
const LONGEST_FOREIGN = 1_000_000;

/** Kinds that our own outputs hold as results: read back, they are left out, because a design computes them again. */
const RESULT_KINDS: ReadonlySet<string> = new Set([
  'usable-area',
  'run',
  'join',
  'header',
  'main',
  'sleeve',
  'fitting',
  'device',
  'wire',
]);

/** What a GeoJSON text is read with. `fileName` names the plan and stands in every problem. */
export interface GeoJsonOptions {
  readonly fileName: string;
}

type Maps = { [M in Built['map'] | 'beds' | 'foreign']: [string, Plan[M][string]][] };

interface Reading {
  readonly frame: Frame;
  readonly report: Report;
  readonly ids: Ids;
  readonly maps: Maps;
  readonly stubUps: StubUpPoint[];
}

/**
 * Reads a GeoJSON feature collection as a plan: WGS84 (RFC 7946) or local metres where it says so.
 * Every problem names file, feature and path. Fails where the text is no such file or holds no usable bed; a single
 * feature that cannot stand is left out with a problem that blocks construction, and the rest goes on.
 */
export function readGeoJson(text: string, options: GeoJsonOptions): Outcome<Plan> {
  const json = parseJsonText(text, options.fileName);
  if (!json.ok) return json;
  const report = startReport(options.fileName);
  const features = readCollection(json.value, report);
  const frame = features && readFrame(json.value as Record<string, unknown>, report);
  if (!features || !frame) return { ok: false, problems: report.problems };
  const reading = startReading(frame, report);
  for (const [index, feature] of features.entries()) readFeature(feature, index, reading);
  placeStubUps(reading.stubUps, reading.maps.beds, report);
  if (reading.maps.beds.length === 0) report.add('stop', 'no-bed', {}, { count: features.length });
  const plan = assemblePlan(json.value as Record<string, unknown>, reading, options.fileName);
  return checkPlan(plan, report);
}

function readCollection(value: unknown, report: Report): readonly unknown[] | null {
  const type = isObject(value) ? member(value, 'type') : undefined;
  const features = isObject(value) ? member(value, 'features') : undefined;
  if (type !== 'FeatureCollection' || !Array.isArray(features)) {
    report.add(
      'stop',
      'not-a-feature-collection',
      { path: 'type' },
      { type: typeof type === 'string' ? type.slice(0, 80) : '' },
    );
    return null;
  }
  if (features.length > MOST_FEATURES) {
    report.add('stop', 'too-many-features', { path: 'features' }, { count: MOST_FEATURES });
    return null;
  }
  return features;
}

function startReading(frame: Frame, report: Report): Reading {
  const maps: Maps = {
    beds: [],
    structures: [],
    trees: [],
    plants: [],
    utilities: [],
    sources: [],
    valves: [],
    controllers: [],
    spots: [],
    foreign: [],
  };
  return { frame, report, ids: startIds(report), maps, stubUps: [] };
}

function readFeature(feature: unknown, index: number, reading: Reading): void {
  const path = `features[${index}]`;
  if (!isObject(feature) || member(feature, 'type') !== 'Feature') {
    reading.report.add('stop', 'not-a-feature', { path });
    return;
  }
  const rawProperties = member(feature, 'properties');
  const kind = readKind(feature, rawProperties, path, reading.report);
  if (RESULT_KINDS.has(kind)) {
    reading.report.add('note', 'result-left-out', { path }, { kind });
    return;
  }
  const own = member(feature, 'id') ?? (isObject(rawProperties) ? member(rawProperties, 'id') : undefined);
  const id = reading.ids.claim(own, kind, { path });
  const place: Place = { id, path };
  const properties = propertiesOf(rawProperties, place, reading.report);
  const isKnown = kind === 'bed' || kind === 'stub-up' || Object.hasOwn(ITEM_BUILDERS, kind);
  const shapes = readShapes(member(feature, 'geometry'), reading.frame, place, reading.report);
  if (!isKnown) keepForeign(id, kind, feature, shapes, place, reading);
  else if (shapes) addItems(id, kind, shapes, properties, place, reading);
  const unasked = isKnown ? properties.unasked() : [];
  if (unasked.length > 0) {
    const names = unasked.slice(0, 10).map((name) => name.slice(0, 40));
    reading.report.add('note', 'properties-ignored', place, {
      names: names.join(', '),
      count: unasked.length,
    });
  }
}

/** The feature's kind. An outline without one is taken as a bed, and that is said. */
function readKind(feature: object, properties: unknown, path: string, report: Report): string {
  const kind = isObject(properties) ? member(properties, 'kind') : undefined;
  if (typeof kind === 'string' && kind !== '') return kind.slice(0, 200);
  const geometry = isObject(feature) ? member(feature, 'geometry') : undefined;
  const type = isObject(geometry) ? member(geometry, 'type') : undefined;
  if (kind === undefined && (type === 'Polygon' || type === 'MultiPolygon')) {
    report.add('warn', 'kind-assumed', { path });
    return 'bed';
  }
  return kind === undefined ? 'no-kind' : 'unreadable-kind';
}

function addItems(
  id: string,
  kind: string,
  shapes: readonly Shape[],
  properties: Properties,
  place: Place,
  reading: Reading,
): void {
  const { frame, report, ids, maps } = reading;
  if (kind === 'bed') {
    const areas = shapes.filter((shape) => shape.kind === 'area');
    if (areas.length < shapes.length) {
      report.add(
        'stop',
        'wrong-geometry',
        { ...place, path: `${place.path}.geometry` },
        { wanted: 'Polygon' },
      );
    }
    for (const bed of buildBeds(id, areas, properties, { frame, place, report })) {
      ids.reserve(bed.id);
      maps.beds.push([bed.id, bed]);
    }
    return;
  }
  for (const [part, shape] of shapes.entries()) {
    const partId = shapes.length === 1 ? id : `${id}/${part + 1}`;
    if (kind === 'stub-up') {
      if (shape.kind === 'point') {
        reading.stubUps.push({
          at: shape.at,
          bedId: properties.text('bed') || null,
          elevationM: properties.number('elevationM', -500, 9000),
          place,
        });
      } else report.add('stop', 'wrong-geometry', place, { wanted: 'Point' });
      continue;
    }
    const built = ITEM_BUILDERS[kind]?.(partId, shape, properties, { frame, place, report });
    if (!built) continue;
    ids.reserve(partId);
    (maps[built.map] as [string, Built['item']][]).push([partId, built.item]);
  }
}

function keepForeign(
  id: string,
  kindName: string,
  feature: object,
  shapes: readonly Shape[] | null,
  place: Place,
  { maps, report }: Reading,
): void {
  const json = JSON.stringify(feature);
  report.add('warn', 'unknown-kind', { ...place, path: `${place.path}.properties.kind` }, { kind: kindName });
  if (json.length > LONGEST_FOREIGN) {
    report.add('warn', 'foreign-too-big', place, { count: LONGEST_FOREIGN });
    return;
  }
  const lines = (shapes ?? []).flatMap((shape) => {
    if (shape.kind === 'point') return [[shape.at]];
    return shape.kind === 'line' ? [[...shape.path]] : shape.rings.map((ring) => [...ring, ring[0]!]);
  });
  maps.foreign.push([id, { id, kindName, lines: lines.slice(0, 1000), json }]);
}

/** "north-garden.geojson" is the plan "north-garden". */
const stemOf = (fileName: string): string => {
  const stem = (fileName.split(/[\\/]/).at(-1) ?? '').replace(/(?<=.)\.(geo)?json$/i, '');
  return stem.slice(0, 200) || 'plan';
};

function assemblePlan(
  collection: Readonly<Record<string, unknown>>,
  reading: Reading,
  fileName: string,
): Plan {
  const ours = member(collection, 'rillsheet');
  const own = isObject(ours) ? member(ours, 'planId') : undefined;
  const stem = stemOf(fileName);
  const plan = emptyPlan(typeof own === 'string' && own !== '' ? own.slice(0, 200) : stem);
  const maps = Object.fromEntries(
    Object.entries(reading.maps).map(([name, entries]) => [name, Object.fromEntries(entries)]),
  );
  return {
    ...plan,
    ...maps,
    project: { ...plan.project, title: stem },
    georeference: reading.frame.georeference,
  };
}

function checkPlan(plan: Plan, report: Report): Outcome<Plan> {
  const checked = checkedPlan(plan, report);
  return checked && Object.keys(checked.beds).length > 0
    ? { ok: true, value: checked, problems: report.problems }
    : { ok: false, problems: report.problems };
}
