import { distanceM, type PlanPoint, type Polyline, pointsAlong, polylineLengthM } from '../geometry';
import { runningMeans } from './runningMeans';

/** The middle line is carried by points this far apart, metres: chords of a bend of 2 m stray 0.6 mm from it. */
const STEP_M = 0.1;
/** Corners of the middle line are rounded by averaging over this share of the ribbon's width, so often. */
const SMOOTHED_SHARE = 0.5;
const TIMES_SMOOTHED = 2;
/** The inverse is sought by so many steps of Newton's method: from the nearest point three reach the grid. */
const MOST_STEPS = 8;
const EXACT_M = 1e-6;

/**
 * Ground along a bending line, laid out straight: x runs along the line, y square to it, positive to the left. Across the
 * line lengths stay as they are, so that rows as far apart in the frame are as far apart on the ground; along it they shrink on
 * the inside of a bend and grow on the outside.
 */
export interface BentFrame {
  readonly lengthM: number;
  toFrame(point: PlanPoint): PlanPoint;
  toPlan(point: PlanPoint): PlanPoint;
  /** Length on the ground along the line for each metre of x at a place of the frame; below 0 the frame folds over. */
  alongRatio(point: PlanPoint): number;
}

/**
 * The frame along a middle line, its corners rounded, carried straight on past both ends.
 *
 * @param widthM   about how wide the ground is: what corners are rounded by
 * @param beyondM  how far the line is carried on
 */
export function bentFrame(middle: Polyline, widthM: number, beyondM: number): BentFrame {
  const line = evenly(smoothed(evenly(carriedOn(middle, beyondM)), SMOOTHED_SHARE * widthM));
  const stepM = polylineLengthM(line) / (line.length - 1);
  const normals = normalsOf(line);
  const last = line.length - 2;

  /** Point, tangent and normal of the line at x, and how the normal turns there. */
  const at = (x: number): { on: PlanPoint; along: PlanPoint; normal: PlanPoint; turning: number } => {
    const index = Math.max(0, Math.min(last, Math.floor(x / stepM)));
    const share = x / stepM - index;
    const [a, b, from, to] = [line[index]!, line[index + 1]!, normals[index]!, normals[index + 1]!];
    const along = { x: (b.x - a.x) / stepM, y: (b.y - a.y) / stepM };
    return {
      on: { x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) },
      along,
      normal: { x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) },
      turning: ((to.x - from.x) * along.x + (to.y - from.y) * along.y) / stepM,
    };
  };

  return {
    lengthM: stepM * (line.length - 1),
    toPlan: ({ x, y }) => {
      const { on, normal } = at(x);
      return { x: on.x + y * normal.x, y: on.y + y * normal.y };
    },
    toFrame: (point) => {
      let nearest = 0;
      for (let index = 1; index < line.length; index++)
        if (distanceM(line[index]!, point) < distanceM(line[nearest]!, point)) nearest = index;
      let x = nearest * stepM;
      let y = 0;
      for (let step = 0; step < MOST_STEPS; step++) {
        const { on, along, normal, turning } = at(x);
        const [dx, dy] = [point.x - on.x, point.y - on.y];
        y = (dx * normal.x + dy * normal.y) / (normal.x ** 2 + normal.y ** 2);
        const behindM = (dx - y * normal.x) * along.x + (dy - y * normal.y) * along.y;
        if (Math.abs(behindM) < EXACT_M) break;
        x += behindM / Math.max(0.2, 1 + y * turning);
      }
      return { x, y };
    },
    alongRatio: ({ x, y }) => 1 + y * at(x).turning,
  };
}

function carriedOn(path: Polyline, beyondM: number): PlanPoint[] {
  const ahead = (from: PlanPoint, end: PlanPoint): PlanPoint => {
    const lengthM = distanceM(from, end) || 1;
    return {
      x: end.x + ((end.x - from.x) * beyondM) / lengthM,
      y: end.y + ((end.y - from.y) * beyondM) / lengthM,
    };
  };
  return [ahead(path[1]!, path[0]!), ...path, ahead(path.at(-2)!, path.at(-1)!)];
}

function evenly(path: Polyline): PlanPoint[] {
  const lengthM = polylineLengthM(path);
  const count = Math.max(2, Math.round(lengthM / STEP_M));
  return pointsAlong(
    path,
    Array.from({ length: count + 1 }, (_, index) => (lengthM * index) / count),
  ).map(({ at }) => at);
}

/** The line with its corners rounded; its ends stay where they are. */
function smoothed(line: readonly PlanPoint[], windowM: number): PlanPoint[] {
  const most = Math.max(1, Math.round(windowM / STEP_M / 2));
  let points = [...line];
  for (let time = 0; time < TIMES_SMOOTHED; time++) {
    const xs = runningMeans(
      points.map(({ x }) => x),
      most,
    );
    const ys = runningMeans(
      points.map(({ y }) => y),
      most,
    );
    points = xs.map((x, index) => ({ x, y: ys[index]! }));
  }
  return points;
}

function normalsOf(line: readonly PlanPoint[]): PlanPoint[] {
  return line.map((_, index) => {
    const [a, b] = [line[Math.max(0, index - 1)]!, line[Math.min(line.length - 1, index + 1)]!];
    const lengthM = distanceM(a, b) || 1;
    return { x: -(b.y - a.y) / lengthM, y: (b.x - a.x) / lengthM };
  });
}
