import { boxOfAll, type PlanPoint } from '../../geometry';
import { emptyPlan, type Plan, plainBed, type Structure, type Underlay } from '../../plan';
import { METRES_PER_FOOT, METRES_PER_INCH, type Outcome, type Problem } from '../../units';
import { checkedPlan } from '../checkedPlan';
import { type Report, startReport } from '../geojson/report';
import type { ParsedDrawing } from './entities';
import { parseDrawing } from './parse';
import { asPoints, type DrawnShape, type DrawnSpot, type DrawnThings, drawnThings } from './shapes';

/** Units a drawing may be in, each with its metres. */
export const DRAWING_UNITS = {
  in: METRES_PER_INCH,
  ft: METRES_PER_FOOT,
  mm: 0.001,
  cm: 0.01,
  m: 1,
} as const;
export type DrawingUnit = keyof typeof DRAWING_UNITS;

/** Unit codes of the format's header. Source: DXF reference, $INSUNITS; from memory. */
const UNIT_CODES: Readonly<Record<number, DrawingUnit>> = { 1: 'in', 2: 'ft', 4: 'mm', 5: 'cm', 6: 'm' };

/** What a layer is taken as. `reference`: drawn faintly underneath and traced by hand. */
export const LAYER_KINDS = [
  'bed',
  'building',
  'paving',
  'fence',
  'obstacle',
  'tree',
  'utility',
  'reference',
  'leave-out',
] as const;
export type LayerKind = (typeof LAYER_KINDS)[number];

/** How to read a drawing; what is not given is guessed, and every guess is reported. */
export interface DrawingOptions {
  readonly fileName: string;
  readonly unit?: DrawingUnit;
  readonly layers?: Readonly<Record<string, LayerKind>>;
}

/** A drawing as a plan, with the choices that were made, to be shown and changed before it is used. */
export interface DrawingReading {
  readonly plan: Plan;
  readonly unit: DrawingUnit;
  readonly unitFrom: 'given' | 'file' | 'guess';
  readonly layers: readonly { readonly name: string; readonly kind: LayerKind; readonly count: number }[];
  readonly widthM: number;
  readonly heightM: number;
}

/** Layers named one by one in the problems; a drawing with more is a machine's. */
const MOST_NAMED_LAYERS = 100;

/** Layer names that say what they hold, most telling first. */
const TELLING_NAMES: readonly (readonly [RegExp, LayerKind])[] = [
  [/usable|tubing|fitting|header|^main$|sleeve|wire|device|names|dim|text|title/i, 'leave-out'],
  [/bed|plant(ing)? area|shrub/i, 'bed'],
  [/build|house|foundation/i, 'building'],
  [/pav|walk|drive|patio|curb/i, 'paving'],
  [/fence|boundary|property/i, 'fence'],
  [/tree/i, 'tree'],
  [/util|gas|sewer|power/i, 'utility'],
  [/obstacle|boulder|rock/i, 'obstacle'],
];

/**
 * Reads a DXF drawing: lines, polylines with their arcs, arcs, circles, points and inserted blocks, in plan metres.
 * The unit comes from the options, else the file, else is guessed as metres; layers are taken as their names tell, and
 * as reference where they tell nothing. Every guess is a problem to look at, never silent.
 * Fails: not a drawing, binary, cut short, too big, nothing in it that can be drawn.
 */
export function readDxf(text: string, options: DrawingOptions): Outcome<DrawingReading> {
  const parsed = parseDrawing(text, options.fileName);
  if (!parsed.ok) return parsed;
  const report = startReport(options.fileName);
  const { unit, unitFrom } = chooseUnit(parsed.value, options, report);
  const drawn = inMetres(drawnThings(parsed.value), DRAWING_UNITS[unit]);
  const box = boxOfAll([...drawn.shapes.map((shape) => shape.points), drawn.spots.map((spot) => spot.at)]);
  if (drawn.isTooMuch || !box) {
    report.add('stop', drawn.isTooMuch ? 'drawing-too-big' : 'drawing-empty', {}, { count: 50_000 });
    return { ok: false, problems: report.problems };
  }
  if (drawn.leftOut.size > 0) {
    const kinds = [...drawn.leftOut]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([kind, count]) => `${count} ${kind}`);
    report.add('warn', 'drawing-left-out', {}, { kinds: kinds.slice(0, 12).join(', ') });
  }
  const layers = chooseLayers(drawn, options, report);
  const origin = { x: Math.round(box.minX), y: Math.round(box.minY) };
  if (Math.hypot(origin.x, origin.y) > 1e4) {
    report.add('note', 'drawing-moved', {}, { eastM: origin.x, northM: origin.y });
  }
  const moved = Math.hypot(origin.x, origin.y) > 1e4 ? origin : { x: 0, y: 0 };
  const plan = checkedPlan(planOf(drawn, layers, moved, options.fileName, report), report);
  if (!plan) return { ok: false, problems: report.problems };
  const reading = { plan, unit, unitFrom, layers, widthM: box.maxX - box.minX, heightM: box.maxY - box.minY };
  return { ok: true, value: reading, problems: report.problems };
}

function chooseUnit(
  drawing: ParsedDrawing,
  options: DrawingOptions,
  report: Report,
): Pick<DrawingReading, 'unit' | 'unitFrom'> {
  if (options.unit) return { unit: options.unit, unitFrom: 'given' };
  const said = drawing.unitCode === null ? undefined : UNIT_CODES[drawing.unitCode];
  report.add(
    said ? 'note' : 'warn',
    said ? 'drawing-unit-said' : 'drawing-unit-guessed',
    {},
    { unit: said ?? 'm' },
  );
  return said ? { unit: said, unitFrom: 'file' } : { unit: 'm', unitFrom: 'guess' };
}

function inMetres(drawn: DrawnThings, metres: number): DrawnThings {
  const scale = ({ x, y }: PlanPoint): PlanPoint => ({ x: x * metres, y: y * metres });
  return {
    ...drawn,
    shapes: drawn.shapes.map((shape) => ({
      ...shape,
      points: shape.points.map(scale),
      sagittas: shape.sagittas.map((sagitta) => sagitta * metres),
    })),
    spots: drawn.spots.map((spot) => ({
      ...spot,
      at: scale(spot.at),
      radius: spot.radius * metres,
      height: spot.height * metres,
    })),
  };
}

function chooseLayers(drawn: DrawnThings, options: DrawingOptions, report: Report): DrawingReading['layers'] {
  const counts = new Map<string, number>();
  for (const { layer } of [...drawn.shapes, ...drawn.spots]) counts.set(layer, (counts.get(layer) ?? 0) + 1);
  const absent = Object.keys(options.layers ?? {}).filter((name) => !counts.has(name));
  for (const name of absent.slice(0, MOST_NAMED_LAYERS)) {
    report.add('warn', 'drawing-layer-absent', { id: name.slice(0, 200) }, {});
  }
  return [...counts]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, count]) => {
      const given = options.layers && Object.hasOwn(options.layers, name) ? options.layers[name] : undefined;
      const kind = given ?? TELLING_NAMES.find(([telling]) => telling.test(name))?.[1] ?? 'reference';
      if (given === undefined)
        report.add('note', 'drawing-layer-taken', { id: name.slice(0, 200) }, { kind, count });
      return { name, kind, count };
    });
}

function planOf(
  drawn: DrawnThings,
  layers: DrawingReading['layers'],
  origin: PlanPoint,
  fileName: string,
  report: Report,
): Plan {
  const kinds = new Map(layers.map(({ name, kind }) => [name, kind]));
  const home = ({ x, y }: PlanPoint): PlanPoint => ({ x: x - origin.x, y: y - origin.y });
  const stem = fileName.replace(/\.dxf$/i, '').slice(0, 200) || 'drawing';
  const plan = emptyPlan(stem);
  const counts = new Map<string, number>();
  const nextId = (kind: string): string => {
    counts.set(kind, (counts.get(kind) ?? 0) + 1);
    return `${kind}-${counts.get(kind)}`;
  };
  const beds: [string, Plan['beds'][string]][] = [];
  const structures: [string, Structure][] = [];
  const utilities: [string, Plan['utilities'][string]][] = [];
  const trees: [string, Plan['trees'][string]][] = [];
  const lines: PlanPoint[][] = [];
  for (const shape of drawn.shapes) {
    const kind = kinds.get(shape.layer) ?? 'reference';
    const path = asPoints(shape).map(home);
    if (kind === 'bed' && shape.isClosed && shape.points.length >= 3) {
      const id = nextId('bed');
      beds.push([id, plainBed(id, [ringOf(shape, home)])]);
    } else if (kind === 'utility') {
      const id = nextId(kind);
      utilities.push([id, { id, name: '', path, depthM: null }]);
    } else if (isStructure(kind)) {
      const id = nextId(kind);
      structures.push([id, structureOf(id, kind, shape, path)]);
    } else if (kind !== 'leave-out') {
      if (kind === 'bed') report.add('warn', 'drawing-bed-open', { ...path[0]!, id: shape.layer });
      lines.push([...path]);
    }
  }
  for (const spot of drawn.spots) {
    const kind = kinds.get(spot.layer) ?? 'reference';
    const id = nextId(kind);
    const at = home(spot.at);
    if (kind === 'tree') trees.push([id, { id, name: '', at, ...treeSize(spot) }]);
    else if (isStructure(kind) && spot.radius > 0) {
      structures.push([
        id,
        { id, name: '', kind, shape: { kind: 'disc', at, radiusM: spot.radius }, clearanceM: null },
      ]);
    } else if (kind === 'reference' && spot.radius > 0) {
      const circle = { layer: spot.layer, isClosed: true, ...twoHalves(at, spot.radius) };
      lines.push([...asPoints(circle)]);
    }
  }
  return {
    ...plan,
    project: { ...plan.project, title: stem },
    beds: Object.fromEntries(beds),
    structures: Object.fromEntries(structures),
    utilities: Object.fromEntries(utilities),
    trees: Object.fromEntries(trees),
    underlays: lines.length === 0 ? {} : { drawing: referenceUnderlay(stem, lines) },
  };
}

const isStructure = (kind: LayerKind): kind is Structure['kind'] =>
  kind === 'building' || kind === 'paving' || kind === 'fence' || kind === 'obstacle';

const ringOf = (shape: DrawnShape, home: (point: PlanPoint) => PlanPoint) => ({
  points: shape.points.map(home),
  edges: shape.points.map((_, i) => ({ class: null, offsetM: null, sagittaM: shape.sagittas[i] ?? 0 })),
});

function structureOf(
  id: string,
  kind: Structure['kind'],
  shape: DrawnShape,
  path: readonly PlanPoint[],
): Structure {
  const isArea = shape.isClosed && path.length >= 4;
  return {
    id,
    name: '',
    kind,
    shape: isArea
      ? { kind: 'area', rings: [path.slice(0, -1)] }
      : { kind: 'line', path: [...path], widthM: 0 },
    clearanceM: null,
  };
}

/** A circle of a tree layer is its crown; the trunk is taken as a tenth of it, a bare point as a small tree. */
const treeSize = ({ radius }: DrawnSpot): { trunkRadiusM: number; canopyRadiusM: number } =>
  radius > 0
    ? { trunkRadiusM: Math.min(0.5, radius / 10), canopyRadiusM: radius }
    : { trunkRadiusM: 0.15, canopyRadiusM: 1.5 };

const twoHalves = (at: PlanPoint, radiusM: number) => ({
  points: [
    { x: at.x + radiusM, y: at.y },
    { x: at.x - radiusM, y: at.y },
  ],
  sagittas: [radiusM, radiusM],
});

function referenceUnderlay(name: string, lines: PlanPoint[][]): Underlay {
  return {
    id: 'drawing',
    name,
    kind: 'reference',
    dataUri: '',
    lines,
    originX: 0,
    originY: 0,
    metresPerPixel: 1,
    turnRad: 0,
    fadeRatio: 0.5,
    locked: true,
    widthPx: 0,
    heightPx: 0,
  };
}

/** Problems that ask for a choice before the drawing is used: a guessed unit, layers taken by their names. */
export const asksForChoice = (problem: Problem): boolean =>
  problem.code === 'exchange.drawing-unit-guessed' || problem.code === 'exchange.drawing-layer-taken';
