import type { Design } from '../../design';
import { arcPoints, closeRing, isAnticlockwise, type PlanPoint, reverseRing } from '../../geometry';
import { type Bed, type Plan, placeOnEarth, type Structure, type WaterSource } from '../../plan';
import { HEAD_M_PER_KPA, M3S_PER_LPS } from '../../units';
import { projectorAt } from '../earth';

type Position = readonly [number, number];
type Geometry =
  | { readonly type: 'Point'; readonly coordinates: Position }
  | { readonly type: 'LineString'; readonly coordinates: readonly Position[] }
  | { readonly type: 'Polygon'; readonly coordinates: readonly (readonly Position[])[] };

/** A feature of our output; `geometry` null only where a kept feature of unknown kind had none. */
interface Feature {
  readonly type: 'Feature';
  readonly id: string;
  readonly geometry: Geometry | null;
  readonly properties: Readonly<Record<string, unknown>>;
}

const DEGREE = Math.PI / 180;
const rounded = (value: number, digits: number): number => Number(value.toFixed(digits)) + 0;
const orAbsent = (value: number | null, factor: number, digits = 6): number | undefined =>
  value === null ? undefined : rounded(value * factor, digits);

/** Turns plan geometry into the file's frame: WGS84 where the plan is georeferenced, else local metres. */
interface Pen {
  readonly at: (point: PlanPoint) => Position;
  readonly point: (point: PlanPoint) => Geometry;
  readonly line: (path: readonly PlanPoint[]) => Geometry;
  /** Outer ring anticlockwise, holes clockwise (RFC 7946, 3.1.6). */
  readonly area: (rings: readonly (readonly PlanPoint[])[]) => Geometry;
  readonly turnRad: number;
}

function startPen(plan: Plan): Pen {
  const georeference = placeOnEarth(plan.georeference);
  const projector = georeference && projectorAt(georeference);
  const at = (point: PlanPoint): Position =>
    projector ? projector.toEarth(point) : [rounded(point.x, 6), rounded(point.y, 6)];
  return {
    at,
    point: (point) => ({ type: 'Point', coordinates: at(point) }),
    line: (path) => ({ type: 'LineString', coordinates: path.map(at) }),
    area: (rings) => ({
      type: 'Polygon',
      coordinates: rings.map((ring, i) => closeRing(turnRing(ring, i === 0)).map(at)),
    }),
    turnRad: georeference?.bearingRad ?? 0,
  };
}

const turnRing = (ring: readonly PlanPoint[], isOuter: boolean): readonly PlanPoint[] =>
  isAnticlockwise(ring) === isOuter ? ring : reverseRing(ring);

/** A ring with its arcs drawn out; each chord keeps the class of its edge. Turned the way RFC 7946 wants it. */
function drawnRing(ring: Bed['rings'][number], isOuter: boolean) {
  const points: PlanPoint[] = [];
  const classes: (string | null)[] = [];
  for (const [i, from] of ring.points.entries()) {
    const to = ring.points[(i + 1) % ring.points.length]!;
    const edge = ring.edges[i];
    const arc = arcPoints(from, to, edge?.sagittaM ?? 0).slice(0, -1);
    points.push(...arc);
    classes.push(...arc.map(() => edge?.class ?? null));
  }
  if (isAnticlockwise(points) === isOuter) return { points, classes };
  // Walked backwards, edge i runs from the old point n-1-i to n-2-i: the old edge n-2-i, and the last is the old last.
  const n = points.length;
  return { points: points.toReversed(), classes: classes.map((_, i) => classes[(2 * n - 2 - i) % n]!) };
}

function bedFeature(bed: Bed, pen: Pen): Feature {
  const rings = bed.rings.map((ring, i) => drawnRing(ring, i === 0));
  const hasClasses = rings.some((ring) => ring.classes.some((edgeClass) => edgeClass !== null));
  const hasOffsets = Object.keys(bed.offsetsM).length > 0;
  return {
    type: 'Feature',
    id: bed.id,
    geometry: {
      type: 'Polygon',
      coordinates: rings.map((ring) => closeRing(ring.points).map(pen.at)),
    },
    properties: {
      kind: 'bed',
      name: bed.name || undefined,
      soil: bed.soil ?? undefined,
      plants: bed.plants ?? undefined,
      sun: bed.sun ?? undefined,
      slopePercent: orAbsent(bed.slopeRatio, 100),
      slopeTowardDeg: bed.slopeTowardRad === null ? undefined : degrees(bed.slopeTowardRad + pen.turnRad),
      edges: hasClasses ? rings.map((ring) => ring.classes) : undefined,
      offsetsM: hasOffsets ? bed.offsetsM : undefined,
      edgeOffsetM: bed.edgeOffsetM ?? undefined,
      rowSpacingM: bed.rowSpacingM ?? undefined,
      rowStretchRatio: bed.rowStretchRatio ?? undefined,
      rowDirectionDeg: bed.rowDirectionRad === null ? undefined : degrees(bed.rowDirectionRad - pen.turnRad),
      layout: bed.layout ?? undefined,
      maxRunM: bed.maxRunM ?? undefined,
      bendRadiusM: bed.bendRadiusM ?? undefined,
      stubUp: bed.stubUp ? pen.at(bed.stubUp) : undefined,
      dripline: bed.driplineId ?? undefined,
      zone: bed.zoneKey ?? undefined,
      elevationM: bed.elevationM ?? undefined,
      specialArea: bed.specialArea || undefined,
      staggered: bed.staggered || undefined,
      treeRings: bed.treeRings || undefined,
    },
  };
}

/** Degrees within a full turn either way, to a millionth. */
const degrees = (angleRad: number): number => rounded((angleRad / DEGREE) % 360, 6);

function structureFeature(structure: Structure, pen: Pen): Feature {
  const { shape, id, kind, name, clearanceM } = structure;
  const shared = { kind, name: name || undefined, clearanceM: clearanceM ?? undefined };
  switch (shape.kind) {
    case 'area':
      return { type: 'Feature', id, geometry: pen.area(shape.rings), properties: shared };
    case 'line':
      return {
        type: 'Feature',
        id,
        geometry: pen.line(shape.path),
        properties: { ...shared, widthM: shape.widthM || undefined },
      };
    case 'disc':
      return {
        type: 'Feature',
        id,
        geometry: pen.point(shape.at),
        properties: { ...shared, radiusM: shape.radiusM },
      };
  }
}

function sourceFeature(source: WaterSource, pen: Pen): Feature {
  const kPa = (headM: number | null): number | undefined => orAbsent(headM, 1 / HEAD_M_PER_KPA);
  return {
    type: 'Feature',
    id: source.id,
    geometry: pen.point(source.at),
    properties: {
      kind: 'source',
      name: source.name || undefined,
      water: source.water,
      elevationM: source.elevationM ?? undefined,
      staticPressureKPa: kPa(source.staticHeadM),
      lowestStaticPressureKPa: kPa(source.lowestStaticHeadM),
      highestStaticPressureKPa: kPa(source.highestStaticHeadM),
      flowTestLps: orAbsent(source.flowTestM3s, 1 / M3S_PER_LPS),
      flowTestPressureKPa: kPa(source.flowTestHeadM),
      measuredOn: source.measuredOn ?? undefined,
      measuredBy: source.measuredBy ?? undefined,
      meterMm: orAbsent(source.meterSizeM, 1000),
      serviceDiameterMm: orAbsent(source.serviceDiameterM, 1000),
      serviceLengthM: source.serviceLengthM ?? undefined,
      backflow: source.backflowId ?? undefined,
      pumpCutInKPa: kPa(source.pumpCutInHeadM),
      pumpCurve: source.pumpCurve?.map(({ flowM3s, headM }) => [
        rounded(flowM3s / M3S_PER_LPS, 9),
        rounded(headM / HEAD_M_PER_KPA, 6),
      ]),
    },
  };
}

/** Items of the plan that stand on a point, with what the reader takes back. */
function pointFeatures(plan: Plan, pen: Pen): readonly Feature[] {
  const feature = (id: string, at: PlanPoint, properties: Feature['properties']): Feature => ({
    type: 'Feature',
    id,
    geometry: pen.point(at),
    properties,
  });
  return [
    ...Object.values(plan.trees).map(({ id, at, name, trunkRadiusM, canopyRadiusM }) =>
      feature(id, at, { kind: 'tree', name: name || undefined, trunkRadiusM, canopyRadiusM }),
    ),
    ...Object.values(plan.plants).map(({ id, at, name, rootBallRadiusM }) =>
      feature(id, at, { kind: 'plant', name: name || undefined, rootBallRadiusM }),
    ),
    ...Object.values(plan.sources).map((source) => sourceFeature(source, pen)),
    ...Object.values(plan.valves).map(({ id, at, name, elevationM, zoneKey, assemblyId }) =>
      feature(id, at, {
        kind: 'valve',
        name: name || undefined,
        elevationM: elevationM ?? undefined,
        zone: zoneKey ?? undefined,
        assembly: assemblyId ?? undefined,
      }),
    ),
    ...Object.values(plan.controllers).map(({ id, at, name, ...controller }) =>
      feature(id, at, { kind: 'controller', name: name || undefined, ...controller }),
    ),
    ...Object.values(plan.spots).map(({ id, at, elevationM }) =>
      feature(id, at, { kind: 'spot', elevationM }),
    ),
  ];
}

/** Features of unknown kind go out as they came in, where the frame is still the one they came in. */
function foreignFeatures(plan: Plan, pen: Pen): readonly Feature[] {
  return Object.values(plan.foreign).flatMap(({ id, kindName, lines, json }) => {
    const original = JSON.parse(json) as { properties?: Readonly<Record<string, unknown>> };
    const properties = { ...original.properties, kind: kindName };
    const geometries = lines.map((line) => (line.length === 1 ? pen.point(line[0]!) : pen.line(line)));
    return geometries.map((geometry, i) => ({
      type: 'Feature' as const,
      id: geometries.length === 1 ? id : `${id}/${i + 1}`,
      geometry,
      properties,
    }));
  });
}

function planFeatures(plan: Plan, pen: Pen): readonly Feature[] {
  return [
    ...Object.values(plan.beds).map((bed) => bedFeature(bed, pen)),
    ...Object.values(plan.structures).map((structure) => structureFeature(structure, pen)),
    ...Object.values(plan.utilities).map(
      ({ id, path, name, depthM }): Feature => ({
        type: 'Feature',
        id,
        geometry: pen.line(path),
        properties: { kind: 'utility', name: name || undefined, depthM: depthM ?? undefined },
      }),
    ),
    ...pointFeatures(plan, pen),
    ...foreignFeatures(plan, pen),
  ];
}

/** Runs, joins, pipes, sleeves, devices and wires of a design, each a feature with its figures in SI. */
function resultFeatures(design: Design, pen: Pen): readonly Feature[] {
  const { supply } = design;
  const line = (id: string, path: readonly PlanPoint[], properties: Feature['properties']): Feature[] =>
    path.length < 2 ? [] : [{ type: 'Feature', id, geometry: pen.line(path), properties }];
  const pipes = [...supply.main, ...supply.zones.flatMap((zone) => zone.pipes)];
  const sleeves = [...supply.sleeves, ...supply.zones.flatMap((zone) => zone.sleeves)];
  const devices = [...supply.devices, ...supply.zones.flatMap((zone) => zone.devices)];
  return [
    ...design.beds.flatMap(({ id: bedId, layout, zoneId }) => [
      ...layout.runs.flatMap((run) =>
        line(run.id, run.path, {
          kind: 'run',
          bed: bedId,
          zone: zoneId ?? undefined,
          role: run.role,
          lengthM: rounded(run.lengthM, 4),
          emitters: run.emittersM.length,
        }),
      ),
      ...layout.joins.map(
        (join, i): Feature => ({
          type: 'Feature',
          id: `${bedId}/join-${i + 1}`,
          geometry: pen.point(join),
          properties: { kind: 'fitting', bed: bedId, fitting: join.fitting, runs: join.runIds },
        }),
      ),
    ]),
    ...pipes.flatMap((pipe) =>
      line(pipe.id, pipe.path, {
        kind: pipe.role === 'main' ? 'main' : 'header',
        pipe: pipe.pipe.id,
        lengthM: rounded(pipe.lengthM, 4),
        insideDiameterM: rounded(pipe.pipe.insideDiameterM, 6),
        depthM: rounded(pipe.depthM, 4),
        flowM3s: rounded(pipe.flowM3s, 9),
      }),
    ),
    ...sleeves.flatMap((sleeve) =>
      line(sleeve.id, sleeve.path, {
        kind: 'sleeve',
        pipe: sleeve.pipe.id,
        lengthM: rounded(sleeve.lengthM, 4),
      }),
    ),
    ...devices.map(
      (device): Feature => ({
        type: 'Feature',
        id: device.id,
        geometry: pen.point(device.at),
        properties: {
          kind: 'device',
          device: device.kind,
          part: device.partId ?? undefined,
          zone: device.zoneId ?? undefined,
        },
      }),
    ),
    ...supply.wires.flatMap((wire, i) =>
      line(`wire-${i + 1}`, wire.path, { kind: 'wire', zone: wire.zoneId ?? undefined }),
    ),
  ];
}

/** Results never share an id with anything drawn or with each other; later ones take a number. */
function withOwnIds(features: readonly Feature[]): readonly Feature[] {
  const taken = new Set<string>();
  return features.map((feature) => {
    let id = feature.id;
    for (let n = 2; taken.has(id); n++) id = `${feature.id}~${n}`;
    taken.add(id);
    return id === feature.id ? feature : { ...feature, id };
  });
}

function collectionText(plan: Plan, features: readonly Feature[]): string {
  const { georeference } = plan;
  const head = {
    type: 'FeatureCollection',
    rillsheet: {
      frame: placeOnEarth(georeference) ? 'wgs84' : 'local-metres',
      planId: plan.id,
      ...(georeference
        ? {
            georeference: {
              longitudeDeg: georeference.longitudeDeg,
              latitudeDeg: georeference.latitudeDeg,
              bearingDeg: rounded(georeference.bearingRad / DEGREE, 9),
            },
          }
        : {}),
    },
  };
  const opening = JSON.stringify(head).slice(0, -1);
  const lines = withOwnIds(features).map((feature) => JSON.stringify(feature));
  return `${opening},"features":[\n${lines.join(',\n')}\n]}\n`;
}

/**
 * The plan alone as GeoJSON that reads back as the same plan (arcs as points): WGS84 by RFC 7946 where it is
 * georeferenced, else local metres, marked so. One feature a line.
 */
export function writePlanGeoJson(plan: Plan): string {
  return collectionText(plan, planFeatures(plan, startPen(plan)));
}

/** The plan with what was designed: one feature a bed, obstacle, run, fitting, pipe, sleeve, device and wire; SI. */
export function writeGeoJson(design: Design): string {
  const pen = startPen(design.plan);
  return collectionText(design.plan, [...planFeatures(design.plan, pen), ...resultFeatures(design, pen)]);
}
