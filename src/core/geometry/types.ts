/** Optional marks: plain `{x, y}` literals fit any space, but a point of one space never passes for another's. */
declare const space: unique symbol;

/** Plan space: metres, x east, y north, origin at the plan's datum. */
export interface PlanPoint {
  readonly x: number;
  readonly y: number;
  readonly [space]?: 'plan';
}
/** Paper space: millimetres, origin top left, y down. */
export interface PaperPoint {
  readonly x: number;
  readonly y: number;
  readonly [space]?: 'paper';
}
/** Screen space: CSS pixels, y down. */
export interface ScreenPoint {
  readonly x: number;
  readonly y: number;
  readonly [space]?: 'screen';
}
/** A closed outline; the first point is not repeated. Outer rings run anticlockwise, holes clockwise. */
export type Ring = readonly PlanPoint[];
/** An open chain of points. A closed route repeats its first point at the end. */
export type Polyline = readonly PlanPoint[];
/** One piece of ground with its holes. */
export interface Polygon {
  readonly outer: Ring;
  readonly holes: readonly Ring[];
}
export type MultiPolygon = readonly Polygon[];
/** Axis-aligned box. */
export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}
