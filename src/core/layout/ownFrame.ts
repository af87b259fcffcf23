import {
  distanceM,
  GRID_STEPS_PER_M,
  headingOf,
  type PlanPoint,
  quantisePoint,
  rotatePoint,
  signedRingAreaM2,
} from '../geometry';

/** Edges whose lengths differ by less than this are equally long, metres: of those, any will do. */
const SAME_LENGTH_M = 1e-6;
/** A direction nearer to a quarter turn than this is that quarter turn: digits of beds drawn square are kept. */
const SQUARE_RAD = 1e-9;
const QUARTER_RAD = Math.PI / 2;

/**
 * How a bed lies in a frame of its own: turned until its longest edge runs along an axis, moved to the axes, and then turned by
 * quarters or mirrored into the one of its eight positions that comes first. The same bed anywhere on a plan, turned or mirrored,
 * comes to the same numbers there, and so to the same route.
 */
export interface OwnFrame {
  /** Anticlockwise from east, in [0, a quarter turn). */
  readonly turnRad: number;
  /** Left and bottom of the turned bed, metres, and its sizes in grid steps. */
  readonly left: number;
  readonly bottom: number;
  readonly across: number;
  readonly up: number;
  /** One of the eight positions of a rectangle: bit 0 mirrors left and right, bit 1 bottom and top, bit 2 then swaps the axes. */
  readonly position: number;
}

/** Places this near to a step of the grid, in steps, lie on it: coordinates of a country's grid have so many digits left. */
const ON_GRID_STEPS = 1e-4;

const POSITIONS = [0, 1, 2, 3, 4, 5, 6, 7] as const;

/** Something of a bed by which its positions are told apart: where it lies and, in a number, what it is. */
export interface Mark {
  readonly at: PlanPoint;
  readonly kind: number;
}

/**
 * The frame of a bed with this outer ring; null where the ring has no extent.
 *
 * @param marks  all that has a say in how the bed is laid; what is not marked may lie either way round in a bed that is its own
 *   mirror image
 */
export function ownFrame(outer: readonly PlanPoint[], marks: readonly Mark[]): OwnFrame | null {
  const turnRad = longestEdgeRad(outer);
  const turned = outer.map((point) => rotatePoint(point, -turnRad));
  const { from: left, steps: across } = span(turned.map(({ x }) => x));
  const { from: bottom, steps: up } = span(turned.map(({ y }) => y));
  if (!(across > 0) || !(up > 0) || !Number.isFinite(across + up)) return null;
  const frame = { turnRad, left, bottom, across, up };
  const all = [...outer.map((at) => ({ at, kind: 0 })), ...marks];
  const written = POSITIONS.map((position) => ({
    position,
    places: all
      .map(({ at, kind }): Written => {
        const { x, y } = stepIn(at, { ...frame, position });
        return [x, y, kind];
      })
      .sort(compareWritten),
  }));
  const first = written.reduce((one, other) => (comesBefore(other.places, one.places) ? other : one));
  return { ...frame, position: first.position };
}

/**
 * Where the grid of a frame begins, metres, and how many steps it takes to span some places. Places on the grid keep to it; others
 * are rounded from their middle, so that a mirror image is rounded to the mirror image.
 */
function span(placesM: readonly number[]): { from: number; steps: number } {
  const least = Math.min(...placesM);
  const most = Math.max(...placesM);
  const isOnGrid = placesM.every((placeM) => {
    const steps = (placeM - least) * GRID_STEPS_PER_M;
    return Math.abs(steps - Math.round(steps)) < ON_GRID_STEPS;
  });
  const middle = (least + most) / 2;
  const first = isOnGrid ? 0 : Math.round((least - middle) * GRID_STEPS_PER_M);
  const last = isOnGrid
    ? Math.round((most - least) * GRID_STEPS_PER_M)
    : Math.round((most - middle) * GRID_STEPS_PER_M);
  return { from: isOnGrid ? least : middle + first / GRID_STEPS_PER_M, steps: last - first };
}

type Written = readonly [number, number, number];

const compareWritten = (one: Written, other: Written): number =>
  one[0] - other[0] || one[1] - other[1] || one[2] - other[2];

function comesBefore(some: readonly Written[], others: readonly Written[]): boolean {
  for (let index = 0; index < some.length; index++) {
    const order = compareWritten(some[index]!, others[index]!);
    if (order !== 0) return order < 0;
  }
  return false;
}

/** Does the frame show the bed as its mirror image? */
export const isMirrored = ({ position }: OwnFrame): boolean =>
  ((position & 1) + ((position >> 1) & 1) + ((position >> 2) & 1)) % 2 === 1;

/** A point of the plan in the frame of its bed, metres, on the grid. */
export function intoFrame(point: PlanPoint, frame: OwnFrame): PlanPoint {
  const at = stepIn(point, frame);
  return { x: at.x / GRID_STEPS_PER_M, y: at.y / GRID_STEPS_PER_M };
}

/** A point of the plan in the frame, in whole steps of the grid. */
function stepIn(point: PlanPoint, { turnRad, left, bottom, across, up, position }: OwnFrame): PlanPoint {
  const turned = rotatePoint(point, -turnRad);
  const x = Math.round((turned.x - left) * GRID_STEPS_PER_M);
  const y = Math.round((turned.y - bottom) * GRID_STEPS_PER_M);
  const at = {
    x: (position & 1) === 0 ? x : across - x,
    y: (position & 2) === 0 ? y : up - y,
  };
  return (position & 4) === 0 ? at : { x: at.y, y: at.x };
}

/** A point in the frame of its bed back on the plan, on the grid. */
export function outOfFrame(
  { x, y }: PlanPoint,
  { turnRad, left, bottom, across, up, position }: OwnFrame,
): PlanPoint {
  const swapped = (position & 4) === 0 ? { x, y } : { x: y, y: x };
  const back = {
    x: (position & 1) === 0 ? swapped.x : across / GRID_STEPS_PER_M - swapped.x,
    y: (position & 2) === 0 ? swapped.y : up / GRID_STEPS_PER_M - swapped.y,
  };
  return quantisePoint(rotatePoint({ x: back.x + left, y: back.y + bottom }, turnRad));
}

/** A heading of the plan, anticlockwise from east, as it is in the frame of the bed, in [0, a whole turn). */
export function headingIntoFrame(headingRad: number, { turnRad, position }: OwnFrame): number {
  let rad = headingRad - turnRad;
  if ((position & 1) !== 0) rad = Math.PI - rad;
  if ((position & 2) !== 0) rad = -rad;
  if ((position & 4) !== 0) rad = QUARTER_RAD - rad;
  return wholeTurn(rad);
}

/** A heading in the frame of the bed as it is on the plan, anticlockwise from east, in [0, a whole turn). */
export function headingOutOfFrame(headingRad: number, { turnRad, position }: OwnFrame): number {
  let rad = headingRad;
  if ((position & 4) !== 0) rad = QUARTER_RAD - rad;
  if ((position & 2) !== 0) rad = -rad;
  if ((position & 1) !== 0) rad = Math.PI - rad;
  return wholeTurn(rad + turnRad);
}

const wholeTurn = (rad: number): number => ((rad % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);

/** Direction of the longest edge within a quarter turn. */
function longestEdgeRad(ring: readonly PlanPoint[]): number {
  let longestM = 0;
  let headingRad = 0;
  ring.forEach((from, index) => {
    const to = ring[(index + 1) % ring.length]!;
    const lengthM = distanceM(from, to);
    if (lengthM <= longestM + SAME_LENGTH_M) return;
    longestM = lengthM;
    headingRad = headingOf(to.y - from.y, to.x - from.x);
  });
  const withinRad = ((headingRad % QUARTER_RAD) + QUARTER_RAD) % QUARTER_RAD;
  return withinRad < SQUARE_RAD || QUARTER_RAD - withinRad < SQUARE_RAD ? 0 : withinRad;
}

const byPlace = (one: PlanPoint, other: PlanPoint): number => one.x - other.x || one.y - other.y;

/** A ring with what goes with its edges, anticlockwise from its first corner (leftmost, then lowest), however it was drawn. */
export function ringInOrder<E>(
  points: readonly PlanPoint[],
  edges: readonly E[],
): { readonly points: PlanPoint[]; readonly edges: E[] } {
  const isTurned = signedRingAreaM2(points) < 0;
  const ordered = isTurned ? [...points].reverse() : [...points];
  // Edge i runs from point i to the next: turned round, the last one stays the last.
  const along = isTurned ? [...edges.slice(0, -1).reverse(), edges.at(-1)!] : [...edges];
  const first = ordered.reduce(
    (best, point, index) => (byPlace(point, ordered[best]!) < 0 ? index : best),
    0,
  );
  return {
    points: [...ordered.slice(first), ...ordered.slice(0, first)],
    edges: [...along.slice(first), ...along.slice(0, first)],
  };
}
