import type { Path64 } from 'clipper2-ts';
import { angleOfCosine, cosOf, headingOf, sinOf } from './steady';

/** Corners after an offset: rounded, or sharp up to twice the distance. */
export type Join = 'round' | 'miter';

/** A sharp corner further out than this many times the distance is cut off square. */
const MITER_LIMIT = 2;
/** A corner that sticks out of its arc by no more than this need not be rounded, grid steps. */
const LEAST_ARC_STEPS = 1;
/** Two moved edges meet in one point where that leaves this share of each. */
const LEFT_SHARE = 0.02;

/** The edges of a ring: unit normals to their right, and lengths. */
interface Edges {
  readonly normalX: Float64Array;
  readonly normalY: Float64Array;
  readonly length: Float64Array;
}

/** An arc as steps of equal angle. */
interface Arc {
  readonly stepCosine: number;
  readonly stepSine: number;
  readonly stepsPerRad: number;
}

/**
 * A ring on the grid with every edge moved square to itself, to its right where `distance` is positive. It may cross itself: ground
 * that has vanished winds the wrong way round, so that a union of what winds the right way is the offset.
 *
 * Where a corner closes up and both its edges keep some length, they meet in one point. The clipping engine's own offset goes through
 * the old corner there, and spends most of its time on the crossings that makes: two in three of a drawn arc's.
 *
 * @param distance         grid steps, negative to the left
 * @param chordTolerance   how far an arc may stray from its chords, grid steps
 */
export function movedRing(ring: Path64, distance: number, join: Join, chordTolerance: number): Path64 {
  const path = withoutRepeats(ring);
  const count = path.length;
  if (count < 2) return []; // a point has no edges
  const edges = edgesOf(path);
  const { normalX, normalY, length } = edges;
  const closing = closings(edges, distance);
  const arc = arcOf(distance, chordTolerance);
  // A corner left sharp ends this many times the distance from the old one at most.
  const sharpRatio = join === 'miter' ? MITER_LIMIT : 1 + LEAST_ARC_STEPS / Math.abs(distance);
  const sharpCosine = 2 / sharpRatio ** 2 - 1;
  const moved: Path64 = [];
  const push = (x: number, y: number): void => {
    moved.push({ x: Math.round(x), y: Math.round(y) });
  };
  for (let index = 0, before = count - 1; index < count; before = index++) {
    const { x, y } = path[index]!;
    const firstX = distance * normalX[before]!;
    const firstY = distance * normalY[before]!;
    const secondX = distance * normalX[index]!;
    const secondY = distance * normalY[index]!;
    const cosine = normalX[before]! * normalX[index]! + normalY[before]! * normalY[index]!;
    const closes = closing[index]!;
    if (closes > 0) {
      const after = index + 1 < count ? index + 1 : 0;
      const isMet =
        closes + closing[before]! < (1 - LEFT_SHARE) * length[before]! &&
        closes + closing[after]! < (1 - LEFT_SHARE) * length[index]!;
      if (isMet) push(x + (firstX + secondX) / (1 + cosine), y + (firstY + secondY) / (1 + cosine));
      else {
        push(x + firstX, y + firstY);
        push(x, y);
        push(x + secondX, y + secondY);
      }
    } else if (cosine > sharpCosine) {
      push(x + (firstX + secondX) / (1 + cosine), y + (firstY + secondY) / (1 + cosine));
    } else if (join === 'miter') pushSquare(x, y, before, index);
    else pushRound(x, y, before, index, cosine);
  }
  return moved;

  /** The corner cut off square to the line that halves it, at the distance. */
  function pushSquare(x: number, y: number, before: number, index: number): void {
    // The two edges' directions, one less the other, point outwards along that line even where the ring doubles back.
    const alongX = normalY[index]! - normalY[before]!;
    const alongY = normalX[before]! - normalX[index]!;
    const along = Math.sqrt(alongX * alongX + alongY * alongY);
    const halfSine = along / 2;
    const halfCosine = Math.sqrt(Math.max(0, 1 - halfSine * halfSine));
    const reach = Math.abs(distance);
    const outX = (reach * alongX) / along;
    const outY = (reach * alongY) / along;
    const side = ((distance > 0 ? 1 : -1) * halfSine) / (1 + halfCosine);
    push(x + outX + side * outY, y + outY - side * outX);
    push(x + outX - side * outY, y + outY + side * outX);
  }

  function pushRound(x: number, y: number, before: number, index: number, cosine: number): void {
    const sine = normalX[before]! * normalY[index]! - normalY[before]! * normalX[index]!;
    let outX = distance * normalX[before]!;
    let outY = distance * normalY[before]!;
    push(x + outX, y + outY);
    const steps = Math.ceil(arc.stepsPerRad * Math.abs(headingOf(sine, cosine)));
    for (let step = 1; step < steps; step++) {
      const nextX = outX * arc.stepCosine - outY * arc.stepSine;
      outY = outX * arc.stepSine + outY * arc.stepCosine;
      outX = nextX;
      push(x + outX, y + outY);
    }
    push(x + distance * normalX[index]!, y + distance * normalY[index]!);
  }
}

/** The ring without points that repeat the one before them. */
function withoutRepeats(ring: Path64): Path64 {
  const kept = ring.filter(({ x, y }, index) => {
    const before = ring[index > 0 ? index - 1 : ring.length - 1]!;
    return x !== before.x || y !== before.y;
  });
  return kept.length > 0 ? kept : ring.slice(0, 1);
}

function edgesOf(path: Path64): Edges {
  const count = path.length;
  const edges = {
    normalX: new Float64Array(count),
    normalY: new Float64Array(count),
    length: new Float64Array(count),
  };
  for (let index = 0; index < count; index++) {
    const a = path[index]!;
    const b = path[index + 1 < count ? index + 1 : 0]!;
    const length = Math.sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
    edges.length[index] = length;
    edges.normalX[index] = (b.y - a.y) / length;
    edges.normalY[index] = (a.x - b.x) / length;
  }
  return edges;
}

/** By how much each corner shortens its two edges when they are moved; 0 at corners that open. */
function closings({ normalX, normalY }: Edges, distance: number): Float64Array {
  const closing = new Float64Array(normalX.length);
  for (let index = 0, before = closing.length - 1; index < closing.length; before = index++) {
    const cosine = normalX[before]! * normalX[index]! + normalY[before]! * normalY[index]!;
    const sine = normalX[before]! * normalY[index]! - normalY[before]! * normalX[index]!;
    if (sine * distance < 0) closing[index] = Math.abs((distance * sine) / (1 + cosine));
  }
  return closing;
}

function arcOf(distance: number, chordTolerance: number): Arc {
  // A chord over this angle has an arc above it just as high as the tolerance.
  const stepRad = 2 * angleOfCosine(Math.max(0, 1 - chordTolerance / Math.abs(distance)));
  return {
    stepCosine: cosOf(stepRad),
    stepSine: distance < 0 ? -sinOf(stepRad) : sinOf(stepRad),
    stepsPerRad: 1 / stepRad,
  };
}
