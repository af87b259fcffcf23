import type { PlanPoint } from '../../geometry';
import { type LaidRun, lengthOf } from './pieces';

/** The tightest bend of a run, and whether it doubles back on itself faster than its bend radius allows. */
export interface Bends {
  readonly minRadiusM: number;
  readonly hairpins: number;
  readonly at: PlanPoint | null;
}

/** Points every `stepM` along a path; a closed path goes on past its seam so that the seam is measured too. */
function pointsAlong(run: LaidRun, stepM: number, overlapM: number): PlanPoint[] {
  const path = run.closed ? [...run.path, ...extra(run.path, overlapM)] : run.path;
  const points: PlanPoint[] = [];
  let next = 0;
  let along = 0;
  for (let i = 1; i < path.length; i += 1) {
    const a = path[i - 1]!;
    const b = path[i]!;
    const length = lengthOf(a, b);
    while (length > 0 && next < along + length) {
      const share = (next - along) / length;
      points.push({ x: a.x + (b.x - a.x) * share, y: a.y + (b.y - a.y) * share });
      next += stepM;
    }
    along += length;
  }
  return points;
}

function extra(path: readonly PlanPoint[], overlapM: number): PlanPoint[] {
  const out: PlanPoint[] = [];
  let length = 0;
  for (let i = 1; i < path.length && length < overlapM; i += 1) {
    length += lengthOf(path[i - 1]!, path[i]!);
    out.push(path[i]!);
  }
  return out;
}

/** Radius of the circle through three points; infinite where they lie on a line (the area formula R = abc / 4K). */
function circleRadiusM(a: PlanPoint, b: PlanPoint, c: PlanPoint): number {
  const doubleArea = Math.abs((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x));
  if (doubleArea < 1e-10) return Number.POSITIVE_INFINITY;
  const product = lengthOf(a, b) * lengthOf(b, c) * lengthOf(c, a);
  return product / (2 * doubleArea);
}

/**
 * Measures bends as a hand would feel them: the circle through three points, each `0.6 x bendRadiusM` along the tube
 * from the next. A run that comes back on itself within less than 0.8 of the half circle its bend radius needs is a hairpin.
 */
export function measureBends(run: LaidRun, bendRadiusM: number): Bends {
  const stepM = bendRadiusM / 5;
  const points = pointsAlong(run, stepM, bendRadiusM * 4);
  const arm = 3;
  const halfCircle = Math.max(4, Math.round((0.8 * Math.PI * bendRadiusM) / stepM));
  let minRadiusM = Number.POSITIVE_INFINITY;
  let hairpins = 0;
  let at: PlanPoint | null = null;
  for (let i = arm; i + arm < points.length; i += 1) {
    const radius = circleRadiusM(points[i - arm]!, points[i]!, points[i + arm]!);
    if (radius < minRadiusM) {
      minRadiusM = radius;
      at = points[i]!;
    }
  }
  for (let i = 0; i + halfCircle + 1 < points.length; i += 1) {
    const a = points[i]!;
    const b = points[i + 1]!;
    const c = points[i + halfCircle]!;
    const d = points[i + halfCircle + 1]!;
    const dot = (b.x - a.x) * (d.x - c.x) + (b.y - a.y) * (d.y - c.y);
    const norm = lengthOf(a, b) * lengthOf(c, d);
    if (norm > 0 && dot / norm < -0.985) hairpins += 1;
  }
  return { minRadiusM, hairpins, at };
}
