import {
  arcPoints,
  boxOfAll,
  DIRT_AREA_M2,
  distanceM,
  intersect,
  type MultiPolygon,
  nearestOnPath,
  nestRings,
  type PlanPoint,
  type Polyline,
  pointBetween,
  pointFrom,
  polygonAreaM2,
  polylineLengthM,
  quantisePoints,
  type Ring,
  SAME_POINT_M,
  STRAIGHT_TOLERANCE_M,
  sagittaThrough,
  segmentsMeet,
  simplifyPath,
  subtract,
  unite,
} from '../geometry';
import type { Bed, BedEdge } from './schema';

type BedRing = Bed['rings'][number];

/** One edge of a bed as drawn, arcs as points. */
interface DrawnEdge {
  readonly path: Polyline;
  readonly edge: BedEdge;
}

/** A boundary that came of cutting lies this near the edge it came from: both ends are rounded to the grid. */
const ON_EDGE_M = 2 * SAME_POINT_M;
const NEW_EDGE: BedEdge = { class: null, offsetM: null, sagittaM: 0 };
/** Straight pieces of the circle that stands for everything beyond the plot. */
const FAR_STEPS = 24;

const edgesOf = (ring: BedRing): DrawnEdge[] =>
  ring.points.map((from, index) => {
    const to = ring.points[(index + 1) % ring.points.length] ?? from;
    const edge = ring.edges[index] ?? NEW_EDGE;
    return { path: arcPoints(from, to, edge.sagittaM), edge };
  });

const groundOf = (bed: Bed): MultiPolygon =>
  nestRings(
    bed.rings.map((ring) => edgesOf(ring).flatMap(({ path }) => path.slice(0, -1))),
    'even-odd',
  );

const liesOn = (drawn: DrawnEdge, from: PlanPoint, to: PlanPoint): boolean =>
  [pointBetween(from, to, 0.5), from, to].every(
    (point) => nearestOnPath(point, drawn.path).distanceM <= ON_EDGE_M,
  );

/** A ring that came of cutting or joining, with every edge as it was drawn: its kind, its offset, its arc. */
function withEdges(ring: Ring, drawn: readonly DrawnEdge[]): BedRing {
  const count = ring.length;
  const at = (index: number): PlanPoint => ring[((index % count) + count) % count] ?? { x: 0, y: 0 };
  const sources = ring.map((_point, index) =>
    drawn.findIndex((edge) => liesOn(edge, at(index), at(index + 1))),
  );
  // Pieces of one drawn edge become one edge again; what was cut anew stays piece by piece.
  const begins = ring.flatMap((_point, index) => {
    const source = sources[index] ?? -1;
    return source < 0 || source !== sources[(index + count - 1) % count] ? [index] : [];
  });
  if (begins.length < 2) return { points: [...ring], edges: ring.map(() => NEW_EDGE) };
  const edges = begins.map((begin, order): BedEdge => {
    const next = begins[(order + 1) % begins.length] ?? begin;
    const pieces = (next - begin + count) % count;
    const source = drawn[sources[begin] ?? -1]?.edge;
    if (!source) return NEW_EDGE;
    const isArc = source.sagittaM !== 0 && pieces > 1;
    const through = at(begin + Math.floor(pieces / 2));
    return { ...source, sagittaM: isArc ? sagittaThrough(at(begin), at(next), through) : 0 };
  });
  return { points: begins.map(at), edges };
}

const asBedRings = (parts: MultiPolygon, drawn: readonly DrawnEdge[]): Bed['rings'][] =>
  parts
    .filter((part) => polygonAreaM2(part) > DIRT_AREA_M2)
    .map((part) => [part.outer, ...part.holes].map((ring) => withEdges(ring, drawn)));

/** The rings of several beds as one, each edge with the kind, the offset and the arc it was drawn with; null where they do not touch. */
export function joinedRings(beds: readonly Bed[]): Bed['rings'] | null {
  const drawn = beds.flatMap((bed) => bed.rings.flatMap(edgesOf));
  const [whole, ...others] = asBedRings(unite(...beds.map(groundOf)), drawn);
  return whole !== undefined && others.length === 0 ? whole : null;
}

/** A line carried on straight beyond both its ends, as far as given. */
export function carriedOn(path: Polyline, beyondM: number): Polyline {
  const [first, second] = path;
  const [last, before] = [path.at(-1), path.at(-2)];
  if (!first || !second || !last || !before) return path;
  const onward = (from: PlanPoint, to: PlanPoint): PlanPoint =>
    pointFrom(to, Math.atan2(to.y - from.y, to.x - from.x), beyondM);
  return [onward(second, first), ...path, onward(before, last)];
}

const crossesItself = (path: Polyline): boolean =>
  path.some((from, one) => {
    const to = path[one + 1];
    if (!to) return false;
    return path.some((start, other) => {
      const end = path[other + 1];
      return end !== undefined && other > one + 1 && segmentsMeet(from, to, start, end);
    });
  });

/** Everything to the left of a line whose ends lie far out: the line, and the way back round the plot. */
function leftOf(line: Polyline, centre: PlanPoint): Ring {
  const [first, last] = [line[0], line.at(-1)];
  if (!first || !last) return [];
  const angle = ({ x, y }: PlanPoint): number => Math.atan2(y - centre.y, x - centre.x);
  const farM = Math.max(distanceM(centre, first), distanceM(centre, last));
  const beginRad = angle(last);
  const turnRad = (((angle(first) - beginRad) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
  const round = Array.from({ length: FAR_STEPS - 1 }, (_, step) =>
    // Further out than the ends, so that the way round never cuts the line.
    pointFrom(centre, beginRad + (turnRad * (step + 1)) / FAR_STEPS, 2 * farM),
  );
  return quantisePoints([...line, ...round]);
}

/** What cutting a bed along a line gives: the rings of every piece, or why there are none. */
export type SplitRings =
  | { readonly kind: 'split'; readonly pieces: readonly Bed['rings'][] }
  | { readonly kind: 'misses' }
  | { readonly kind: 'crosses-itself' };

/**
 * A bed cut along a line of any number of bends, carried on straight at both ends. Each piece keeps the kinds, the offsets and the
 * arcs of the edges it keeps; the cut itself is open ground.
 *
 * @param path two points or more
 */
export function splitRings(bed: Bed, path: Polyline): SplitRings {
  const ground = groundOf(bed);
  const drawn = bed.rings.flatMap(edgesOf);
  const box = boxOfAll([...drawn.map((edge) => edge.path), path]);
  if (!box || path.length < 2) return { kind: 'misses' };
  const centre = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
  const acrossM = Math.hypot(box.maxX - box.minX, box.maxY - box.minY);
  const line = simplifyPath(carriedOn(path, 4 * acrossM + polylineLengthM(path)), STRAIGHT_TOLERANCE_M);
  if (crossesItself(line)) return { kind: 'crosses-itself' };
  const left: MultiPolygon = [{ outer: leftOf(line, centre), holes: [] }];
  const [mine, others] = [intersect(ground, left), subtract(ground, left)].map((part) =>
    asBedRings(part, drawn),
  );
  if (!mine?.length || !others?.length) return { kind: 'misses' };
  return { kind: 'split', pieces: [...mine, ...others] };
}
