import {
  cosOf,
  type PlanPoint,
  type Polyline,
  pointAlong,
  polylineLengthM,
  quantisePoints,
} from '../geometry';
import { firstEmitterFromEndM, firstEmitterM, placeEmitters } from './emitters';
import { countTurns, straightShare, tightestBendM } from './figures';
import type { SketchRun } from './sketch';
import type { Run } from './types';

/** What a run needs besides its own path to become tubing with emitters. */
export interface RunMaking {
  readonly id: string;
  readonly rowSpacingM: number;
  readonly bendRadiusM: number;
  readonly emitterSpacingM: number;
  readonly flushAtM: number | null;
}

const isPlain = (run: Pick<SketchRun, 'role'>): boolean => run.role === 'lead' || run.role === 'connector';

/** Points on the grid, a closed path closed exactly. */
export function tidyPath(path: Polyline, isClosed: boolean): PlanPoint[] {
  const points = quantisePoints(path);
  const first = points[0];
  const last = points.at(-1);
  if (isClosed && first && last && (first.x !== last.x || first.y !== last.y)) points.push(first);
  return points;
}

/** Tubing with its emitters and figures from a sketched run whose path is final. */
export function makeRun(sketch: SketchRun, making: RunMaking): Run {
  const path = tidyPath(sketch.path, sketch.closed);
  const lengthM = polylineLengthM(path);
  const first = sketch.endsAtEmitter
    ? firstEmitterFromEndM(lengthM, making.emitterSpacingM)
    : firstEmitterM(making.emitterSpacingM, sketch.isStaggered === true);
  return {
    id: making.id,
    role: sketch.role,
    ...(sketch.use ? { use: sketch.use } : {}),
    closed: sketch.closed,
    path,
    lengthM,
    emittersM: isPlain(sketch) ? [] : placeEmitters(lengthM, making.emitterSpacingM, first),
    startsAt: path[0] ?? { x: 0, y: 0 },
    flushAtM: making.flushAtM === null ? null : sketch.closed ? Math.min(lengthM, making.flushAtM) : lengthM,
    minBendRadiusM: Math.min(1e6, tightestBendM(path, 0.6 * making.bendRadiusM)),
    straightFraction: straightShare(path, making.rowSpacingM),
    turns: isPlain(sketch) ? 0 : countTurns(path, making.rowSpacingM),
  };
}

/**
 * Where a loop is flushed: as near as can be to where its two flows meet (half its length from the tee), on a straight
 * piece, and within `reachM` of an edge so that the box can be reached; anywhere near the middle where no edge is.
 */
export function flushPointM(
  path: Polyline,
  distanceToEdgeM: (point: PlanPoint) => number,
  reachM: number,
): number {
  const lengthM = polylineLengthM(path);
  const middleM = lengthM / 2;
  const stepM = Math.max(0.1, lengthM / 400);
  let fallback: number | null = null;
  for (let k = 0; k * stepM <= 0.15 * lengthM; k += 1) {
    for (const atM of k === 0 ? [middleM] : [middleM - k * stepM, middleM + k * stepM]) {
      if (!isStraightAt(path, atM)) continue;
      fallback ??= atM;
      if (distanceToEdgeM(pointAlong(path, atM).at) <= reachM) return atM;
    }
  }
  return fallback ?? middleM;
}

function isStraightAt(path: Polyline, atM: number): boolean {
  const armM = 0.1;
  const before = pointAlong(path, atM - armM).headingRad;
  const after = pointAlong(path, atM + armM).headingRad;
  return cosOf(before - after) > 0.999;
}
