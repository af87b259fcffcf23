import {
  cosOf,
  distanceM,
  type MultiPolygon,
  nearestOnPath,
  type PlanPoint,
  type Polyline,
  pointInMultiPolygon,
  pointsAlong,
  polylineLengthM,
  quantisePoints,
} from '../geometry';
import { leastSeparationM } from './loop';
import type { BedLayout, LockedRun, Run } from './types';
import { worstWetDistanceM } from './wetReach';

/** A shift fades out over this many row spacings to either side, so that no bend is tight and the row reads straight. */
const FADE_ROWS = 2;
/** Points of the shifted stretch stand this far apart, m. */
const STEP_M = 0.05;
/** Shifts tried, in this many equal shares of the way from the row to the plant. */
const SHARES = 20;

/**
 * The route of a bed with its nearest row moved toward a plant, just so far that an emitter is within reach of it at the
 * worst emitter phase; what the designer may lock. Off the usable ground, or too near another row, nothing is offered.
 *
 * @param withinM  the least distance wanted between the plant's middle and the nearest emitter, m
 * @returns all runs of the bed, or null where no shift does it
 */
export function shiftRowToward(
  layout: BedLayout,
  plant: PlanPoint,
  withinM: number,
  emitterSpacingM: number,
  bendRadiusM: number,
): readonly LockedRun[] | null {
  const wet = layout.runs.filter((run) => run.emittersM.length > 0 && run.use !== 'spur');
  const near = wet
    .map((run) => ({ run, ...nearestOnPath(plant, run.path) }))
    .sort((a, b) => a.distanceM - b.distanceM)[0];
  if (!near) return null;
  const leastM = leastSeparationM(layout.rowSpacingM, bendRadiusM);
  for (let step = 1; step <= SHARES; step += 1) {
    const share = step / SHARES;
    const path = bulge(near.run, near.alongM, near.at, plant, share, FADE_ROWS * layout.rowSpacingM);
    const shifted = { ...near.run, path };
    if (worstWetDistanceM([shifted], plant, emitterSpacingM) > withinM) continue;
    return keepsOff(shifted, near.run, wet, layout.usable, leastM)
      ? layout.runs.map((run) => ({
          role: run.role,
          ...(run.use ? { use: run.use } : {}),
          closed: run.closed,
          path: run === near.run ? path : run.path,
        }))
      : null;
  }
  return null;
}

/** The run with the stretch about `alongM` moved by a share of the way to the plant, fading as a raised cosine. */
function bulge(
  run: Run,
  alongM: number,
  at: PlanPoint,
  plant: PlanPoint,
  share: number,
  fadeM: number,
): Polyline {
  const lengthM = polylineLengthM(run.path);
  const kept = new Set<number>([0, lengthM]);
  let cornerM = 0;
  for (let i = 1; i < run.path.length; i += 1) {
    cornerM += distanceM(run.path[i - 1]!, run.path[i]!);
    kept.add(Math.min(cornerM, lengthM));
  }
  const steps = Math.ceil(fadeM / STEP_M);
  for (let k = -steps; k <= steps; k += 1) {
    const placeM = alongM + (k * fadeM) / steps;
    if (placeM > 0 && placeM < lengthM) kept.add(placeM);
  }
  const places = [...kept].sort((a, b) => a - b);
  const moved = pointsAlong(run.path, places).map((point, index): PlanPoint => {
    const awayM = Math.abs(places[index]! - alongM);
    if (awayM >= fadeM) return point.at;
    const weight = (share * (1 + cosOf((Math.PI * awayM) / fadeM))) / 2;
    return { x: point.at.x + weight * (plant.x - at.x), y: point.at.y + weight * (plant.y - at.y) };
  });
  return quantisePoints(moved);
}

function keepsOff(
  shifted: { readonly path: Polyline },
  drawn: Run,
  runs: readonly Run[],
  usable: MultiPolygon,
  leastM: number,
): boolean {
  const changed = shifted.path.filter((point) => nearestOnPath(point, drawn.path).distanceM > 1e-3);
  return changed.every(
    (point) =>
      pointInMultiPolygon(point, usable) &&
      runs.every((run) => run === drawn || nearestOnPath(point, run.path).distanceM >= leastM) &&
      farFromRestOf(drawn, point, leastM),
  );
}

/** A moved point keeps its distance from its own run too, but for the stretch it was moved from. */
function farFromRestOf(drawn: Run, point: PlanPoint, leastM: number): boolean {
  const own = nearestOnPath(point, drawn.path);
  let alongM = 0;
  for (let i = 1; i < drawn.path.length; i += 1) {
    const a = drawn.path[i - 1]!;
    const b = drawn.path[i]!;
    const nextM = alongM + distanceM(a, b);
    const isOwnStretch = nextM > own.alongM - 4 * leastM && alongM < own.alongM + 4 * leastM;
    if (!isOwnStretch && nearestOnPath(point, [a, b]).distanceM < leastM) return false;
    alongM = nextM;
  }
  return true;
}
