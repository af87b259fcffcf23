/** One object of a drawing, with the figures that are used of it. Angles in radians, anticlockwise; `rotation` in degrees. */
export interface ParsedEntity {
  readonly type: string;
  readonly layer: string;
  readonly vertices?: readonly { readonly x: number; readonly y: number; readonly bulge: number }[];
  /** A closed polyline. */
  readonly shape?: boolean;
  readonly center?: { readonly x: number; readonly y: number };
  readonly position?: { readonly x: number; readonly y: number; readonly z: number };
  readonly radius?: number;
  readonly startAngle?: number;
  readonly endAngle?: number;
  /** Of an insert: the block's name, its scales, its turn, and how often it is repeated. */
  readonly name?: string;
  readonly xScale?: number;
  readonly yScale?: number;
  readonly rotation?: number;
  readonly columnCount?: number;
  readonly rowCount?: number;
  readonly columnSpacing?: number;
  readonly rowSpacing?: number;
}

/** A block: a group of objects that inserts draw. */
export interface ParsedBlock {
  readonly position: { readonly x: number; readonly y: number };
  readonly entities: readonly ParsedEntity[];
}

/** What is read of a drawing. */
export interface ParsedDrawing {
  /** Code of the unit in the header; null where it says none. */
  readonly unitCode: number | null;
  readonly entities: readonly ParsedEntity[];
  readonly blocks: ReadonlyMap<string, ParsedBlock>;
}

/** Lines of a record: its kind, and its codes with their values in order. */
export interface DrawingRecord {
  readonly type: string;
  readonly groups: readonly (readonly [code: number, value: string])[];
}

const DEGREE = Math.PI / 180;
/** Flags of a polyline that is a mesh and no line: 16 a mesh, 64 a mesh of faces. Source: DXF reference; from memory. */
const MESH_FLAGS = 16 | 64;
/** Flag of a vertex that only guides a spline. */
const GUIDE_FLAG = 16;

/** Reads the figure under a code; NaN where the record does not hold it or it is no number. */
function figureOf(record: DrawingRecord, code: number, absent = Number.NaN): number {
  const found = record.groups.find(([own]) => own === code);
  return found ? Number(found[1].trim() || Number.NaN) : absent;
}

const wordOf = (record: DrawingRecord, code: number): string =>
  record.groups.find(([own]) => own === code)?.[1].trim() ?? '';

const pointOf = (record: DrawingRecord, codeX: number) => ({
  x: figureOf(record, codeX),
  y: figureOf(record, codeX + 10),
});

/** True where the object is drawn on a plane seen from below, whose arcs would run the other way. */
const isFromBelow = (record: DrawingRecord): boolean => figureOf(record, 230, 1) < 0;

/** Vertices of a light polyline: each x begins one, y and bulge follow it. */
function lightVertices(record: DrawingRecord): { x: number; y: number; bulge: number }[] {
  const vertices: { x: number; y: number; bulge: number }[] = [];
  for (const [code, value] of record.groups) {
    const last = vertices.at(-1);
    if (code === 10) vertices.push({ x: Number(value), y: Number.NaN, bulge: 0 });
    else if (code === 20 && last) last.y = Number(value);
    else if (code === 42 && last) last.bulge = Number(value);
  }
  return vertices;
}

/**
 * Turns one record into an object. `vertices` holds the records of an old-style polyline, which follow it.
 * A kind that is not taken keeps its name, so that it can be counted.
 * Source of the codes: DXF reference, ENTITIES section; from memory.
 */
export function entityOf(record: DrawingRecord, vertices: readonly DrawingRecord[]): ParsedEntity {
  const { type } = record;
  const layer = wordOf(record, 8) || '0';
  if (isFromBelow(record) && type !== 'LINE') return { type: `${type} from below`, layer };
  switch (type) {
    case 'LINE':
      return {
        type,
        layer,
        vertices: [pointOf(record, 10), pointOf(record, 11)].map((p) => ({ ...p, bulge: 0 })),
      };
    case 'LWPOLYLINE':
      return { type, layer, vertices: lightVertices(record), shape: (figureOf(record, 70, 0) & 1) === 1 };
    case 'POLYLINE': {
      const flags = figureOf(record, 70, 0);
      if ((flags & MESH_FLAGS) !== 0) return { type: 'MESH', layer };
      const drawn = vertices.filter((vertex) => (figureOf(vertex, 70, 0) & GUIDE_FLAG) === 0);
      const points = drawn.map((vertex) => ({ ...pointOf(vertex, 10), bulge: figureOf(vertex, 42, 0) }));
      return { type, layer, vertices: points, shape: (flags & 1) === 1 };
    }
    case 'ARC':
      return {
        type,
        layer,
        center: pointOf(record, 10),
        radius: figureOf(record, 40),
        startAngle: figureOf(record, 50) * DEGREE,
        endAngle: figureOf(record, 51) * DEGREE,
      };
    case 'CIRCLE':
      return { type, layer, center: pointOf(record, 10), radius: figureOf(record, 40) };
    case 'POINT':
      return { type, layer, position: { ...pointOf(record, 10), z: figureOf(record, 30, 0) } };
    case 'INSERT':
      return {
        type,
        layer,
        name: wordOf(record, 2),
        position: { ...pointOf(record, 10), z: 0 },
        xScale: figureOf(record, 41, 1),
        yScale: figureOf(record, 42, 1),
        rotation: figureOf(record, 50, 0),
        columnCount: figureOf(record, 70, 1),
        rowCount: figureOf(record, 71, 1),
        columnSpacing: figureOf(record, 44, 0),
        rowSpacing: figureOf(record, 45, 0),
      };
    default:
      return { type, layer };
  }
}

/** Where a block's own origin lies, and what it is called. */
export const blockHead = (record: DrawingRecord) => ({
  name: wordOf(record, 2),
  position: pointOf(record, 10),
});
