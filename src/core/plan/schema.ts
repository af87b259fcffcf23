import { z } from 'zod';

/**
 * The plan document, version 1. It holds what the designer drew, measured and chose, and no result.
 * Lengths in metres, angles in radians, heads in metres of water, flows in m3/s; x east, y north.
 * `null` means "not said": the design states what it assumes instead.
 */
export const PLAN_VERSION = 1;

const finite = z.number();
const lengthM = finite.min(0).max(1e5);
const coordM = finite.min(-1e6).max(1e6);
const id = z.string().min(1).max(200);
const words = z.string().max(20_000);
const point = z.strictObject({ x: coordM, y: coordM });
const path = z.array(point).min(2).max(20_000);
const elevationM = finite.min(-500).max(9000).nullable();

export const edgeClassSchema = z.enum(['open', 'paving', 'lawn', 'foundation', 'boundary', 'obstacle']);
export const soilClassSchema = z.enum([
  'sand',
  'loamy-sand',
  'sandy-loam',
  'loam',
  'silt-loam',
  'silt',
  'sandy-clay-loam',
  'clay-loam',
  'silty-clay-loam',
  'sandy-clay',
  'silty-clay',
  'clay',
]);
export const plantNeedSchema = z.enum(['very-low', 'low', 'moderate', 'high']);
export const sunSchema = z.enum(['full-sun', 'part-shade', 'shade']);
export const layoutKindSchema = z.enum(['loop', 'loop-centre-row', 'strip', 'laterals', 'contour']);
export const runRoleSchema = z.enum([
  'loop',
  'centre-row',
  'single-row',
  'lateral',
  'ring',
  'connector',
  'lead',
]);
export const waterKindSchema = z.enum(['potable', 'recycled', 'well', 'tank']);

/** Edge i runs from point i to point i + 1. `class` null: taken from what the edge runs along. */
const edge = z.strictObject({
  class: edgeClassSchema.nullable(),
  /** Overrides the class's own offset. */
  offsetM: lengthM.nullable(),
  /** Height of the arc over the chord, positive to the right of the edge's direction; 0: straight. */
  sagittaM: finite.min(-1e4).max(1e4),
});
const ring = z.strictObject({ points: z.array(point).min(1).max(20_000), edges: z.array(edge).max(20_000) });

/** Points `fromIndex` to `toIndex` of a stored outline or line are one arc of this height; 0 as the end is the first point again. */
const arc = z.strictObject({
  ringIndex: z.int().min(0),
  fromIndex: z.int().min(0),
  toIndex: z.int().min(0),
  sagittaM: finite.min(-1e4).max(1e4),
});
/** Which points came of arcs, so that these can be edited as arcs; absent: none. */
const arcs = z.array(arc).max(20_000).optional();

/** One piece of a route drawn or kept by hand. */
export const lockedRunSchema = z.strictObject({
  role: runRoleSchema,
  use: z.enum(['supply-header', 'flush-header', 'spur', 'link']).optional(),
  closed: z.boolean(),
  path,
});

const bed = z.strictObject({
  id,
  name: words,
  /** Outer ring first. Kept as drawn; repair happens in the design and is reported. */
  rings: z.array(ring).min(1).max(500),
  elevationM,
  soil: soilClassSchema.nullable(),
  plants: plantNeedSchema.nullable(),
  sun: sunSchema.nullable(),
  /** Rise over run. */
  slopeRatio: finite.min(0).max(3).nullable(),
  /** Compass bearing of downhill, clockwise from north. */
  slopeTowardRad: finite.nullable(),
  specialArea: z.boolean(),
  densityFactor: finite.min(0.1).max(2).nullable(),
  microclimateFactor: finite.min(0.1).max(2).nullable(),
  rootDepthM: lengthM.nullable(),
  driplineId: id.nullable(),
  rowSpacingM: finite.min(0.05).max(5).nullable(),
  rowStretchRatio: finite.min(0).max(1).nullable(),
  /** Anticlockwise from east. */
  rowDirectionRad: finite.nullable(),
  layout: layoutKindSchema.nullable(),
  alternative: z.string().max(200).nullable(),
  maxRunM: finite.min(1).max(1e5).nullable(),
  bendRadiusM: finite.min(0.01).max(2).nullable(),
  stubUp: point.nullable(),
  stubUpElevationM: elevationM,
  offsetsM: z.partialRecord(edgeClassSchema, lengthM),
  /** One number for all edges not named otherwise. */
  edgeOffsetM: lengthM.nullable(),
  staggered: z.boolean(),
  treeRings: z.boolean(),
  lockedRoute: z.array(lockedRunSchema).max(500).nullable(),
  /** Beds with the same key share a valve, whatever the program would choose. */
  zoneKey: z.string().max(100).nullable(),
});

/** Building, paving, fence, obstacle: an area (closed) or a line with a width. */
const structure = z.strictObject({
  id,
  name: words,
  kind: z.enum(['building', 'paving', 'fence', 'obstacle']),
  shape: z.discriminatedUnion('kind', [
    z.strictObject({
      kind: z.literal('area'),
      rings: z.array(z.array(point).min(3).max(20_000)).min(1).max(500),
      arcs,
    }),
    z.strictObject({ kind: z.literal('line'), path, arcs, widthM: lengthM }),
    z.strictObject({ kind: z.literal('disc'), at: point, radiusM: lengthM }),
  ]),
  clearanceM: lengthM.nullable(),
});
const tree = z.strictObject({ id, name: words, at: point, trunkRadiusM: lengthM, canopyRadiusM: lengthM });
const plant = z.strictObject({
  id,
  name: words,
  at: point,
  rootBallRadiusM: lengthM,
  /** Fed by a short piece of tubing of its own; absent: by the rows it stands among. */
  spur: z.boolean().optional(),
});
const utility = z.strictObject({ id, name: words, path, arcs, depthM: lengthM.nullable() });
const spot = z.strictObject({ id, at: point, elevationM: finite.min(-500).max(9000) });

const source = z.strictObject({
  id,
  name: words,
  at: point,
  elevationM,
  water: waterKindSchema,
  staticHeadM: lengthM.nullable(),
  lowestStaticHeadM: lengthM.nullable(),
  highestStaticHeadM: lengthM.nullable(),
  /** Flow drawn in the test, and the head that was read while it ran. */
  flowTestM3s: finite.min(0).max(10).nullable(),
  flowTestHeadM: lengthM.nullable(),
  measuredOn: z.string().max(100).nullable(),
  measuredBy: z.string().max(200).nullable(),
  meterSizeM: lengthM.nullable(),
  serviceDiameterM: lengthM.nullable(),
  serviceLengthM: lengthM.nullable(),
  backflowId: id.nullable(),
  /** Pump, well or tank: head against flow, flow ascending. */
  pumpCurve: z
    .array(z.strictObject({ flowM3s: finite.min(0), headM: finite }))
    .max(200)
    .nullable(),
  pumpCutInHeadM: lengthM.nullable(),
});
const valve = z.strictObject({
  id,
  name: words,
  at: point,
  elevationM,
  zoneKey: z.string().max(100).nullable(),
  assemblyId: id.nullable(),
});
const controller = z.strictObject({
  id,
  name: words,
  at: point,
  stations: z.int().min(1).max(200),
  masterValve: z.boolean(),
  flowSensor: z.boolean(),
  weatherSensor: z.boolean(),
});
const note = z.strictObject({ id, text: words, at: point, leader: point.nullable() });
/** An end of a dimension: a free point, or a point of something drawn, so that it follows it. */
const anchor = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('free'), at: point }),
  z.strictObject({
    kind: z.literal('corner'),
    itemId: id,
    ringIndex: z.int().min(0),
    pointIndex: z.int().min(0),
  }),
  z.strictObject({ kind: z.literal('item'), itemId: id }),
]);
const dimension = z.strictObject({ id, from: anchor, to: anchor, asideM: finite });
/** A header, main or wire drawn or locked by hand. */
const lockedPipe = z.strictObject({
  id,
  role: z.enum(['main', 'header', 'wire']),
  zoneKey: z.string().max(100).nullable(),
  path,
  arcs,
  pipeId: id.nullable(),
});
const underlay = z.strictObject({
  id,
  name: words,
  kind: z.enum(['picture', 'reference']),
  /** data: URI of a PNG or JPEG (picture), or empty where `lines` holds the reference. */
  dataUri: z.string().max(30_000_000),
  lines: z.array(path).max(50_000),
  originX: coordM,
  originY: coordM,
  metresPerPixel: finite.positive(),
  turnRad: finite,
  fadeRatio: finite.min(0).max(1),
  locked: z.boolean(),
  widthPx: z.int().min(0),
  heightPx: z.int().min(0),
});
/** A GeoJSON feature of a kind this version does not know: kept, drawn faintly, reported, written back. */
const foreign = z.strictObject({
  id,
  kindName: z.string().max(200),
  lines: z.array(z.array(point).min(1).max(20_000)).max(1000),
  json: z.string().max(1_000_000),
});
const reading = z.strictObject({
  id,
  on: z.string().max(100),
  by: z.string().max(200),
  zoneKey: z.string().max(100).nullable(),
  place: z.string().max(200),
  headM: finite.nullable(),
  flowM3s: finite.nullable(),
  remark: words,
});

const climate = z.strictObject({
  place: words,
  latitudeRad: finite.min(-1.5708).max(1.5708).nullable(),
  elevationM,
  /** Twelve monthly totals of reference ET, metres of water, January first. */
  referenceEtM: z.array(finite.min(0).max(1)).length(12).nullable(),
  rainM: z.array(finite.min(0).max(5)).length(12).nullable(),
  source: words,
});

/** Overrides of the table of defaults (`core/catalog` defaults), by key. */
const settings = z.record(z.string().max(100), finite);

const map = <T extends z.ZodType>(item: T) => z.record(id, item);

export const planSchema = z.strictObject({
  format: z.literal('rillsheet-plan'),
  version: z.literal(PLAN_VERSION),
  id,
  project: z.strictObject({
    title: words,
    place: words,
    client: words,
    designer: words,
    licence: words,
    date: z.string().max(100),
    notes: words,
    oneCallNumber: z.string().max(100),
    revisions: z
      .array(z.strictObject({ mark: z.string().max(20), date: z.string().max(100), text: words }))
      .max(200),
  }),
  display: z.strictObject({
    units: z.enum(['us', 'metric']),
    paper: z.enum(['letter', 'tabloid', 'arch-c', 'arch-d', 'a4', 'a3', 'a2', 'a1']).nullable(),
    /** Denominator of the scale: 48 for 1/4" = 1'-0"; null: the largest that fits. */
    scaleDenominator: finite.positive().max(100_000).nullable(),
  }),
  /** WGS84 place of the plan's origin and the compass bearing of +y. */
  georeference: z
    .strictObject({
      longitudeDeg: finite.min(-180).max(180),
      latitudeDeg: finite.min(-85).max(85),
      bearingRad: finite,
    })
    .nullable(),
  site: z.strictObject({
    soil: soilClassSchema.nullable(),
    expansiveSoil: z.boolean(),
    plants: plantNeedSchema.nullable(),
    sun: sunSchema.nullable(),
    region: z.string().max(100),
    climate,
    /** Minutes after midnight, and the days (0 Sunday ... 6 Saturday) on which watering is allowed. */
    wateringWindow: z.strictObject({
      fromMin: z.int().min(0).max(1440),
      toMin: z.int().min(0).max(2880),
      days: z.array(z.int().min(0).max(6)).max(7),
    }),
    seasonalRatio: finite.min(0).max(3),
  }),
  settings,
  beds: map(bed),
  structures: map(structure),
  trees: map(tree),
  plants: map(plant),
  utilities: map(utility),
  sources: map(source),
  valves: map(valve),
  controllers: map(controller),
  spots: map(spot),
  notes: map(note),
  dimensions: map(dimension),
  lockedPipes: map(lockedPipe),
  underlays: map(underlay),
  foreign: map(foreign),
  readings: map(reading),
});

export type Plan = z.infer<typeof planSchema>;
export type Bed = Plan['beds'][string];
export type BedEdge = Bed['rings'][number]['edges'][number];
export type DrawnArc = z.infer<typeof arc>;
export type Structure = Plan['structures'][string];
export type Tree = Plan['trees'][string];
export type Plant = Plan['plants'][string];
export type Utility = Plan['utilities'][string];
export type WaterSource = Plan['sources'][string];
export type Valve = Plan['valves'][string];
export type Controller = Plan['controllers'][string];
export type Spot = Plan['spots'][string];
export type Note = Plan['notes'][string];
export type Dimension = Plan['dimensions'][string];
export type LockedPipe = Plan['lockedPipes'][string];
export type Underlay = Plan['underlays'][string];
export type Foreign = Plan['foreign'][string];
export type FieldReading = Plan['readings'][string];
export type SoilClass = z.infer<typeof soilClassSchema>;
export type PlantNeed = z.infer<typeof plantNeedSchema>;
export type Sun = z.infer<typeof sunSchema>;
/** The maps of the plan that hold drawn things. */
export const ITEM_MAPS = [
  'beds',
  'structures',
  'trees',
  'plants',
  'utilities',
  'sources',
  'valves',
  'controllers',
  'spots',
  'notes',
  'dimensions',
  'lockedPipes',
  'underlays',
  'foreign',
  'readings',
] as const;
export type ItemMap = (typeof ITEM_MAPS)[number];
