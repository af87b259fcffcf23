import type { PlanPoint } from '../../geometry';
import { type Plan, type Structure, type WaterSource, waterKindSchema } from '../../plan';
import { HEAD_M_PER_KPA, M3S_PER_LPS } from '../../units';
import type { Surroundings } from './bed';
import type { Properties } from './properties';
import type { Shape } from './shapes';

/** A trunk and a crown where the file gives none; each use is reported as an assumption. */
const ASSUMED_TRUNK_M = 0.15;
const ASSUMED_CANOPY_M = 1.5;
const ASSUMED_ROOT_BALL_M = 0.15;
const FARTHEST_M = 1e5;
const HIGHEST_KPA = 5000;

/** An item of the plan and the map it belongs in. */
export type Built = {
  [M in 'structures' | 'trees' | 'plants' | 'utilities' | 'sources' | 'valves' | 'controllers' | 'spots']: {
    readonly map: M;
    readonly item: Plan[M][string];
  };
}['structures' | 'trees' | 'plants' | 'utilities' | 'sources' | 'valves' | 'controllers' | 'spots'];

type Builder = (id: string, shape: Shape, properties: Properties, near: Surroundings) => Built | null;

/** Builders of everything but beds and stub-ups, by the feature's kind. */
export const ITEM_BUILDERS: Readonly<Record<string, Builder>> = {
  building: buildStructure('building'),
  paving: buildStructure('paving'),
  fence: buildStructure('fence'),
  obstacle: buildStructure('obstacle'),
  tree: onPoint((id, at, properties, near) => ({
    map: 'trees',
    item: {
      id,
      name: properties.text('name'),
      at,
      trunkRadiusM: assumed('trunkRadiusM', ASSUMED_TRUNK_M, properties, near),
      canopyRadiusM: assumed('canopyRadiusM', ASSUMED_CANOPY_M, properties, near),
    },
  })),
  plant: onPoint((id, at, properties, near) => ({
    map: 'plants',
    item: {
      id,
      name: properties.text('name'),
      at,
      rootBallRadiusM: assumed('rootBallRadiusM', ASSUMED_ROOT_BALL_M, properties, near),
    },
  })),
  utility: (id, shape, properties, near) => {
    if (shape.kind !== 'line') return wrongGeometry('LineString', near);
    const depthM = properties.number('depthM', 0, FARTHEST_M);
    return { map: 'utilities', item: { id, name: properties.text('name'), path: [...shape.path], depthM } };
  },
  source: onPoint((id, at, properties) => ({ map: 'sources', item: buildSource(id, at, properties) })),
  valve: onPoint((id, at, properties) => ({
    map: 'valves',
    item: {
      id,
      name: properties.text('name'),
      at,
      elevationM: properties.number('elevationM', -500, 9000),
      zoneKey: properties.text('zone').slice(0, 100) || null,
      assemblyId: properties.text('assembly').slice(0, 200) || null,
    },
  })),
  controller: onPoint((id, at, properties) => ({
    map: 'controllers',
    item: {
      id,
      name: properties.text('name'),
      at,
      stations: Math.round(properties.number('stations', 1, 200) ?? 6),
      masterValve: properties.flag('masterValve'),
      flowSensor: properties.flag('flowSensor'),
      weatherSensor: properties.flag('weatherSensor'),
    },
  })),
  spot: onPoint((id, at, properties) => {
    const elevationM = properties.number('elevationM', -500, 9000);
    if (elevationM === null) return properties.refuse('elevationM', 'missing-number');
    return { map: 'spots', item: { id, at, elevationM } };
  }),
};

function wrongGeometry(wanted: string, { place, report }: Surroundings): null {
  report.add('stop', 'wrong-geometry', { ...place, path: `${place.path}.geometry` }, { wanted });
  return null;
}

function onPoint(
  build: (id: string, at: PlanPoint, properties: Properties, near: Surroundings) => Built | null,
): Builder {
  return (id, shape, properties, near) =>
    shape.kind === 'point' ? build(id, shape.at, properties, near) : wrongGeometry('Point', near);
}

function assumed(
  key: string,
  valueM: number,
  properties: Properties,
  { place, report }: Surroundings,
): number {
  const given = properties.number(key, 0, FARTHEST_M);
  if (given !== null) return given;
  if (!properties.has(key)) report.add('note', 'assumed-radius', place, { key, lengthM: valueM });
  return valueM;
}

function buildStructure(kind: Structure['kind']): Builder {
  return (id, shape, properties, near) => {
    const planShape = structureShape(shape, properties, near);
    if (!planShape) return null;
    const clearanceM = properties.number('clearanceM', 0, FARTHEST_M);
    return {
      map: 'structures',
      item: { id, name: properties.text('name'), kind, shape: planShape, clearanceM },
    };
  };
}

function structureShape(shape: Shape, properties: Properties, near: Surroundings): Structure['shape'] | null {
  if (shape.kind === 'point') {
    const radiusM = properties.number('radiusM', 0, FARTHEST_M);
    if (radiusM !== null) return { kind: 'disc', at: shape.at, radiusM };
    return properties.has('radiusM') ? null : properties.refuse('radiusM', 'missing-number');
  }
  if (shape.kind === 'line') {
    const widthM = properties.number('widthM', 0, FARTHEST_M) ?? 0;
    return { kind: 'line', path: [...shape.path], widthM };
  }
  if (shape.rings.every((ring) => ring.length >= 3)) {
    return { kind: 'area', rings: shape.rings.map((ring) => [...ring]) };
  }
  const { place, report } = near;
  report.add('stop', 'ring-too-short', { ...place, path: `${place.path}.geometry.coordinates` });
  return null;
}

function buildSource(id: string, at: PlanPoint, properties: Properties): WaterSource {
  const headM = (key: string): number | null =>
    scaled(properties.number(key, 0, HIGHEST_KPA), HEAD_M_PER_KPA);
  return {
    id,
    name: properties.text('name'),
    at,
    elevationM: properties.number('elevationM', -500, 9000),
    water: properties.choice('water', waterKindSchema.options) ?? 'potable',
    staticHeadM: headM('staticPressureKPa'),
    lowestStaticHeadM: headM('lowestStaticPressureKPa'),
    highestStaticHeadM: headM('highestStaticPressureKPa'),
    flowTestM3s: scaled(properties.number('flowTestLps', 0, 10_000), M3S_PER_LPS),
    flowTestHeadM: headM('flowTestPressureKPa'),
    measuredOn: properties.text('measuredOn').slice(0, 100) || null,
    measuredBy: properties.text('measuredBy').slice(0, 200) || null,
    meterSizeM: scaled(properties.number('meterMm', 0, 1e6), 0.001),
    serviceDiameterM: scaled(properties.number('serviceDiameterMm', 0, 1e6), 0.001),
    serviceLengthM: properties.number('serviceLengthM', 0, FARTHEST_M),
    backflowId: properties.text('backflow').slice(0, 200) || null,
    pumpCurve: readPumpCurve(properties),
    pumpCutInHeadM: headM('pumpCutInKPa'),
  };
}

const scaled = (value: number | null, factor: number): number | null =>
  value === null ? null : value * factor;

/** Pairs of L/s and kPa, flow ascending and pressure never rising with it. */
function readPumpCurve(properties: Properties): WaterSource['pumpCurve'] {
  const value = properties.raw('pumpCurve');
  if (value === undefined) return null;
  if (!Array.isArray(value) || value.length < 2 || value.length > 200) {
    return properties.refuse('pumpCurve', 'bad-pump-curve');
  }
  const points: { flowM3s: number; headM: number }[] = [];
  for (const pair of value) {
    const [lps, kpa] = Array.isArray(pair) ? pair : [];
    const last = points.at(-1);
    const point = { flowM3s: Number(lps) * M3S_PER_LPS, headM: Number(kpa) * HEAD_M_PER_KPA };
    const isPair = typeof lps === 'number' && typeof kpa === 'number' && lps >= 0;
    if (!isPair || (last && (point.flowM3s <= last.flowM3s || point.headM > last.headM))) {
      return properties.refuse('pumpCurve', 'bad-pump-curve');
    }
    points.push(point);
  }
  return points;
}
