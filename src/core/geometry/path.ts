import { nearestOnSegment } from './distance';
import type { PlanPoint, Polyline } from './types';
import { distanceM, headingRad, pointBetween } from './vector';

/** Length of a chain of points, metres. A closed path repeats its first point, so its closing edge counts. */
export function polylineLengthM(path: Polyline): number {
  let lengthM = 0;
  for (let index = 1; index < path.length; index++) lengthM += distanceM(path[index - 1]!, path[index]!);
  return lengthM;
}

/** Distance along the path to each of its points, metres, first 0. */
export function distancesAlongM(path: Polyline): number[] {
  const distances = path.length > 0 ? [0] : [];
  for (let index = 1; index < path.length; index++)
    distances.push(distances[index - 1]! + distanceM(path[index - 1]!, path[index]!));
  return distances;
}

/** A point on a path with the way the path runs there. */
export interface PointOnPath {
  readonly at: PlanPoint;
  /** Direction of the path, radians anticlockwise from east. */
  readonly headingRad: number;
  /** Index of the point that begins the edge it lies on. */
  readonly edge: number;
}

/** The point `alongM` along a path, held to its ends. Throws on a path of fewer than two points: a bug upstream. */
export function pointAlong(path: Polyline, alongM: number): PointOnPath {
  if (path.length < 2) throw new Error('a path has at least two points');
  let leftM = Math.max(0, alongM);
  for (let index = 1; index < path.length; index++) {
    const a = path[index - 1]!;
    const b = path[index]!;
    const lengthM = distanceM(a, b);
    if (leftM <= lengthM && lengthM > 0)
      return { at: pointBetween(a, b, leftM / lengthM), headingRad: headingRad(a, b), edge: index - 1 };
    leftM -= lengthM;
  }
  const a = path.at(-2)!;
  const b = path.at(-1)!;
  return { at: b, headingRad: headingRad(a, b), edge: path.length - 2 };
}

/** Many points along a path in one walk. `alongM` ascends; each is held to the path's ends. */
export function pointsAlong(path: Polyline, alongM: readonly number[]): PointOnPath[] {
  if (path.length < 2) throw new Error('a path has at least two points');
  const found: PointOnPath[] = [];
  let edge = 0;
  let startM = 0;
  let lengthM = distanceM(path[0]!, path[1]!);
  for (const wantedM of alongM) {
    while (wantedM > startM + lengthM && edge + 2 < path.length) {
      startM += lengthM;
      edge += 1;
      lengthM = distanceM(path[edge]!, path[edge + 1]!);
    }
    const a = path[edge]!;
    const b = path[edge + 1]!;
    const ratio = lengthM > 0 ? Math.min(1, Math.max(0, (wantedM - startM) / lengthM)) : 0;
    found.push({ at: pointBetween(a, b, ratio), headingRad: headingRad(a, b), edge });
  }
  return found;
}

/** A path with points added so that no piece of it is longer than `stepM`. */
export function inPieces(path: Polyline, stepM: number): PlanPoint[] {
  const points: PlanPoint[] = path[0] ? [path[0]] : [];
  for (let index = 1; index < path.length; index++) {
    const a = path[index - 1]!;
    const b = path[index]!;
    const steps = Math.max(1, Math.ceil(distanceM(a, b) / stepM));
    for (let step = 1; step <= steps; step++) points.push(pointBetween(a, b, step / steps));
  }
  return points;
}

/** The part of a path between two distances along it. Empty where there is nothing between. */
export function slicePath(path: Polyline, fromM: number, toM: number): PlanPoint[] {
  if (path.length < 2 || toM <= fromM) return [];
  const start = pointAlong(path, fromM);
  const end = pointAlong(path, toM);
  const points = [start.at, ...path.slice(start.edge + 1, end.edge + 1), end.at];
  return points.filter((point, index) => index === 0 || distanceM(point, points[index - 1]!) > 0);
}

/** A path cut in pieces at the given distances along it (ascending). */
export function splitPath(path: Polyline, atM: readonly number[]): PlanPoint[][] {
  const cuts = [0, ...atM, polylineLengthM(path)];
  return cuts
    .slice(1)
    .map((toM, index) => slicePath(path, cuts[index]!, toM))
    .filter((piece) => piece.length > 1);
}

/** Nearest point of a path to a point, with how far away and how far along it lies. */
export interface NearestOnPath {
  readonly at: PlanPoint;
  readonly distanceM: number;
  readonly alongM: number;
  readonly edge: number;
}

/** The point of a path nearest to `point`; the first along it where several are. Throws on an empty path. */
export function nearestOnPath(point: PlanPoint, path: Polyline): NearestOnPath {
  const first = path[0];
  if (!first) throw new Error('a path has at least one point');
  let best: NearestOnPath = { at: first, distanceM: distanceM(point, first), alongM: 0, edge: 0 };
  let startM = 0;
  for (let index = 1; index < path.length; index++) {
    const a = path[index - 1]!;
    const b = path[index]!;
    const near = nearestOnSegment(point, a, b);
    const lengthM = distanceM(a, b);
    if (near.distanceM < best.distanceM)
      best = {
        at: near.at,
        distanceM: near.distanceM,
        alongM: startM + lengthM * near.ratio,
        edge: index - 1,
      };
    startM += lengthM;
  }
  return best;
}

/** A closed path begun at another of its points: the one `alongM` along it. First and last point stay equal. */
export function beginClosedPathAt(path: Polyline, alongM: number): PlanPoint[] {
  const lengthM = polylineLengthM(path);
  const turned = ((alongM % lengthM) + lengthM) % lengthM;
  if (turned === 0) return [...path];
  const head = slicePath(path, turned, lengthM);
  const tail = slicePath(path, 0, turned);
  return [...head, ...tail.slice(1)];
}
