import { arcPoints, CHORD_TOLERANCE_M, circlePoints, type PlanPoint } from '../../geometry';
import type { ParsedDrawing, ParsedEntity } from './entities';

/** A line or an outline of a drawing, in the drawing's own units. `sagittas` holds the arc over each edge. */
export interface DrawnShape {
  readonly layer: string;
  readonly points: readonly PlanPoint[];
  readonly sagittas: readonly number[];
  readonly isClosed: boolean;
}

/** A circle or a point of a drawing; a point has no radius. */
export interface DrawnSpot {
  readonly layer: string;
  readonly at: PlanPoint;
  readonly radius: number;
  readonly height: number;
}

/** What a drawing holds, blocks drawn out; `leftOut` counts kinds of entity that are not taken. */
export interface DrawnThings {
  readonly shapes: readonly DrawnShape[];
  readonly spots: readonly DrawnSpot[];
  readonly leftOut: ReadonlyMap<string, number>;
  readonly isTooMuch: boolean;
}

const MOST_THINGS = 50_000;
const MOST_POINTS = 200_000;
const DEEPEST_BLOCK = 8;
/** Blocks put in place, empty ones too: blocks that hold each other can multiply without ever drawing a line. */
const MOST_PLACINGS = 100_000;
/** Figures beyond this are no place on any site, whatever the unit. */
const FARTHEST = 1e8;
/** Arcs are drawn no finer than this share of their size, so that a huge one stays a few hundred points. */
const FINEST_RATIO = 1e-5;
const DEGREE = Math.PI / 180;

/** Where a block is put: scaled, then turned, then moved. */
interface Placing {
  readonly at: (point: PlanPoint) => PlanPoint;
  /** Size of a length under the placing; null where x and y differ, so that circles would become ellipses. */
  readonly scale: number | null;
  readonly isMirrored: boolean;
}

const AS_DRAWN: Placing = { at: (point) => point, scale: 1, isMirrored: false };

/** Draws out every line, polyline, arc, circle, point and insert. Entities with numbers that are not finite are left out. */
export function drawnThings(drawing: ParsedDrawing): DrawnThings {
  const shapes: DrawnShape[] = [];
  const spots: DrawnSpot[] = [];
  const leftOut = new Map<string, number>();
  let points = 0;
  let placings = 0;
  let isTooMuch = false;
  const leave = (what: string): void => {
    leftOut.set(what, (leftOut.get(what) ?? 0) + 1);
  };
  const keep = (shape: DrawnShape): void => {
    points += shape.points.length;
    if (shapes.length >= MOST_THINGS || points > MOST_POINTS) isTooMuch = true;
    else if (shape.points.length >= 2 && shape.points.every(isFinitePoint) && shape.sagittas.every(isReach))
      shapes.push(shape);
    else leave('broken');
  };
  const walk = (
    entities: readonly ParsedEntity[],
    placing: Placing,
    layerOver: string | null,
    depth: number,
  ): void => {
    for (const entity of entities) {
      if (isTooMuch) return;
      const layer = layerOver !== null && entity.layer === '0' ? layerOver : entity.layer;
      if (entity.type === 'INSERT') {
        const block = entity.name === undefined ? undefined : drawing.blocks.get(entity.name);
        if (!block || depth >= DEEPEST_BLOCK) leave('INSERT');
        else
          for (const place of placingsOf(entity, block.position, placing)) {
            placings += 1;
            if (placings > MOST_PLACINGS) isTooMuch = true;
            if (isTooMuch) return;
            walk(block.entities, place, layer, depth + 1);
          }
        continue;
      }
      const spot = spotOf(entity, layer, placing);
      if (spot) {
        if (spots.length >= MOST_THINGS) isTooMuch = true;
        else spots.push(spot);
        continue;
      }
      const shape = shapeOf(entity, layer, placing);
      if (shape) keep(shape);
      else leave(entity.type.slice(0, 40));
    }
  };
  walk(drawing.entities, AS_DRAWN, null, 0);
  return { shapes, spots, leftOut, isTooMuch };
}

const isFinitePoint = (point: PlanPoint): boolean =>
  Math.abs(point.x) <= FARTHEST && Math.abs(point.y) <= FARTHEST;
const isReach = (sagitta: number): boolean => Math.abs(sagitta) <= FARTHEST;
const isSize = (radius: number | undefined): radius is number =>
  radius !== undefined && radius > 0 && radius <= FARTHEST;

function* placingsOf(insert: ParsedEntity, base: PlanPoint | undefined, outer: Placing): Generator<Placing> {
  const scaleX = insert.xScale ?? 1;
  const scaleY = insert.yScale ?? 1;
  const turnRad = (insert.rotation ?? 0) * DEGREE;
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)];
  const scale =
    outer.scale !== null && Math.abs(Math.abs(scaleX) - Math.abs(scaleY)) < 1e-9
      ? outer.scale * Math.abs(scaleX)
      : null;
  const columns = Math.min(MOST_THINGS, Math.max(1, insert.columnCount ?? 1));
  const rows = Math.min(MOST_THINGS, Math.max(1, insert.rowCount ?? 1));
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const alongX = column * (insert.columnSpacing ?? 0);
      const alongY = row * (insert.rowSpacing ?? 0);
      yield {
        scale,
        isMirrored: outer.isMirrored !== scaleX * scaleY < 0,
        at: (point) => {
          const x = (point.x - (base?.x ?? 0)) * scaleX + alongX;
          const y = (point.y - (base?.y ?? 0)) * scaleY + alongY;
          return outer.at({
            x: (insert.position?.x ?? 0) + x * cos - y * sin,
            y: (insert.position?.y ?? 0) + x * sin + y * cos,
          });
        },
      };
    }
  }
}

function spotOf(entity: ParsedEntity, layer: string, placing: Placing): DrawnSpot | null {
  if (entity.type === 'POINT' && entity.position && isFinitePoint(entity.position)) {
    const at = placing.at(entity.position);
    return isFinitePoint(at) ? { layer, at, radius: 0, height: entity.position.z } : null;
  }
  const isCircle = entity.type === 'CIRCLE' && entity.center && placing.scale !== null;
  if (!isCircle || !isSize(entity.radius)) return null;
  const at = placing.at(entity.center!);
  const radius = entity.radius * placing.scale!;
  return isFinitePoint(at) && isSize(radius) ? { layer, at, radius, height: 0 } : null;
}

function shapeOf(entity: ParsedEntity, layer: string, placing: Placing): DrawnShape | null {
  switch (entity.type) {
    case 'LINE':
    case 'LWPOLYLINE':
    case 'POLYLINE':
      return polylineShape(entity, layer, placing);
    case 'ARC':
      return arcShape(entity, layer, placing);
    case 'CIRCLE': {
      if (!entity.center || !isSize(entity.radius)) return null;
      const ring = circlePoints(entity.center, entity.radius, entity.radius * FINEST_RATIO);
      return { layer, points: ring.map(placing.at), sagittas: [], isClosed: true };
    }
    default:
      return null;
  }
}

/** Bulges become heights of arcs over their chords: bulge x chord / 2, positive to the right as ours are. */
function polylineShape(entity: ParsedEntity, layer: string, placing: Placing): DrawnShape | null {
  const vertices = entity.vertices ?? [];
  if (vertices.length < 2) return null;
  const points = vertices.map(placing.at);
  const isClosed = entity.shape === true;
  const hasArcs = vertices.some((vertex) => vertex.bulge !== 0);
  if (!hasArcs) return { layer, points, sagittas: points.map(() => 0), isClosed };
  if (placing.scale === null) return null;
  const sign = placing.isMirrored ? -1 : 1;
  const sagittas = points.map((from, i) => {
    const to = points[(i + 1) % points.length]!;
    return (sign * vertices[i]!.bulge * Math.hypot(to.x - from.x, to.y - from.y)) / 2;
  });
  return { layer, points, sagittas, isClosed };
}

function arcShape(
  { center, radius, startAngle, endAngle }: ParsedEntity,
  layer: string,
  placing: Placing,
): DrawnShape | null {
  if (!center || !isSize(radius) || placing.scale === null) return null;
  const from = startAngle ?? 0;
  const sweep = ((((endAngle ?? 0) - from) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI) || 2 * Math.PI;
  const at = (angle: number): PlanPoint => ({
    x: center.x + radius * Math.cos(angle),
    y: center.y + radius * Math.sin(angle),
  });
  // Two halves, so that no chord runs through the centre of a wide arc.
  const halves = [from, from + sweep / 2, from + sweep];
  const points = halves.map(at).map(placing.at);
  const sagitta = radius * placing.scale * (1 - Math.cos(sweep / 4)) * (placing.isMirrored ? -1 : 1);
  return { layer, points, sagittas: [sagitta, sagitta, 0], isClosed: false };
}

/** The shape with its arcs drawn out as points. */
export function asPoints({ points, sagittas, isClosed }: DrawnShape): readonly PlanPoint[] {
  const last = isClosed ? points.length : points.length - 1;
  const drawn: PlanPoint[] = [];
  for (let i = 0; i < last; i++) {
    const [from, to, sagitta] = [points[i]!, points[(i + 1) % points.length]!, sagittas[i] ?? 0];
    const size = Math.hypot(to.x - from.x, to.y - from.y) + Math.abs(sagitta);
    const arc = arcPoints(from, to, sagitta, Math.max(CHORD_TOLERANCE_M, size * FINEST_RATIO));
    drawn.push(...(i === last - 1 ? arc : arc.slice(0, -1)));
  }
  return drawn;
}
