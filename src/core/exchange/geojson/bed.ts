import type { PlanPoint } from '../../geometry';
import {
  type Bed,
  type BedEdge,
  edgeClassSchema,
  layoutKindSchema,
  plainBed,
  plantNeedSchema,
  soilClassSchema,
  sunSchema,
} from '../../plan';
import type { Place } from '../../units';
import type { Frame } from './frame';
import type { Properties } from './properties';
import { isObject, type Report } from './report';
import { readLonePosition, type Shape } from './shapes';

type EdgeClass = NonNullable<BedEdge['class']>;
type Area = Extract<Shape, { kind: 'area' }>;

const DEGREE = Math.PI / 180;
const EDGE_CLASSES = edgeClassSchema.options;

/** What the builders of items need besides the feature's own properties. */
export interface Surroundings {
  readonly frame: Frame;
  readonly place: Place;
  readonly report: Report;
}

/**
 * Builds the beds of one feature, one a part: `id`, or `id/1`, `id/2` ... where the feature has several parts.
 * Rings stay as drawn; a wrong property is reported and left unsaid.
 */
export function buildBeds(
  id: string,
  areas: readonly Area[],
  properties: Properties,
  near: Surroundings,
): Bed[] {
  const choices = readBedChoices(properties, near);
  const edges = flattenEdges(properties);
  let nextRing = 0;
  const beds = areas.map((area, part) => {
    const partId = areas.length === 1 ? id : `${id}/${part + 1}`;
    const rings = area.rings.map((points) => ({
      points: [...points],
      edges: edgesOfRing(points, edges?.[nextRing++], properties, near),
    }));
    return { ...plainBed(partId, rings, choices.name ?? ''), ...choices };
  });
  if (edges !== null && edges.length !== nextRing) {
    properties.refuse('edges', 'edges-per-ring', { count: nextRing, given: edges.length });
  }
  return beds;
}

function readBedChoices(properties: Properties, { frame, place, report }: Surroundings): Partial<Bed> {
  const percent = properties.number('slopePercent', 0, 300);
  const toward = properties.number('slopeTowardDeg', -360, 360);
  const direction = properties.number('rowDirectionDeg', -360, 360);
  const stubUp = properties.has('stubUp')
    ? readLonePosition(properties.raw('stubUp'), `${place.path}.properties.stubUp`, frame, place, report)
    : null;
  return {
    name: properties.text('name'),
    elevationM: properties.number('elevationM', -500, 9000),
    soil: properties.choice('soil', soilClassSchema.options),
    plants: properties.choice('plants', plantNeedSchema.options),
    sun: properties.choice('sun', sunSchema.options),
    slopeRatio: percent === null ? null : percent / 100,
    slopeTowardRad: toward === null ? null : toward * DEGREE - frame.turnRad,
    rowDirectionRad: direction === null ? null : direction * DEGREE + frame.turnRad,
    rowSpacingM: properties.number('rowSpacingM', 0.05, 5),
    rowStretchRatio: properties.number('rowStretchRatio', 0, 1),
    layout: properties.choice('layout', layoutKindSchema.options),
    maxRunM: properties.number('maxRunM', 1, 1e5),
    bendRadiusM: properties.number('bendRadiusM', 0.01, 2),
    edgeOffsetM: properties.number('edgeOffsetM', 0, 1e5),
    offsetsM: readOffsets(properties),
    driplineId: properties.text('dripline') || null,
    zoneKey: properties.text('zone').slice(0, 100) || null,
    specialArea: properties.flag('specialArea'),
    staggered: properties.flag('staggered'),
    treeRings: properties.flag('treeRings'),
    stubUp,
  };
}

function readOffsets(properties: Properties): Bed['offsetsM'] {
  const value = properties.raw('offsetsM');
  if (value === undefined) return {};
  if (!isObject(value)) return properties.refuse('offsetsM', 'bad-offsets') ?? {};
  const offsets: [EdgeClass, number][] = [];
  for (const [name, offsetM] of Object.entries(value)) {
    const edgeClass = EDGE_CLASSES.find((known) => known === name);
    if (edgeClass && typeof offsetM === 'number' && offsetM >= 0 && offsetM <= 1e5) {
      offsets.push([edgeClass, offsetM]);
    } else {
      properties.refuse('offsetsM', 'bad-offset', {
        name: name.slice(0, 80),
        accepted: EDGE_CLASSES.join(', '),
      });
    }
  }
  return Object.fromEntries(offsets);
}

/** One list of classes a ring, whether the file nests them by part or not. Null where none are given. */
function flattenEdges(properties: Properties): readonly (readonly unknown[])[] | null {
  const value = properties.raw('edges');
  if (value === undefined) return null;
  if (!Array.isArray(value)) return properties.refuse('edges', 'bad-edges');
  const isByPart = value.some((part) => Array.isArray(part) && part.some(Array.isArray));
  return (isByPart ? value.flat(1) : value).map((ring: unknown) => (Array.isArray(ring) ? ring : []));
}

function edgesOfRing(
  points: readonly PlanPoint[],
  classes: readonly unknown[] | undefined,
  properties: Properties,
  { place, report }: Surroundings,
): BedEdge[] {
  const path = `${place.path}.properties.edges`;
  if (classes && classes.length !== points.length) {
    report.add('warn', 'edges-per-side', { ...place, path }, { given: classes.length, count: points.length });
  }
  const unknown = new Set<string>();
  const edges = points.map((_, i) => {
    const word = classes?.[i] ?? null;
    const edgeClass = EDGE_CLASSES.find((known) => known === word) ?? null;
    if (word !== null && edgeClass === null) unknown.add(String(word).slice(0, 80));
    return { class: edgeClass, offsetM: null, sagittaM: 0 };
  });
  if (unknown.size > 0) {
    properties.refuse('edges', 'bad-edge-class', {
      names: [...unknown].slice(0, 10).join(', '),
      accepted: EDGE_CLASSES.join(', '),
    });
  }
  return edges;
}
