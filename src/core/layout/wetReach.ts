import { distanceM, nearestOnPath, type PlanPoint, type Polyline, pointsAlong } from '../geometry';
import type { Run } from './types';

/** One straight piece of a run as the point sees it, wrapped to one emitter spacing: d(u)^2 = (u - footM)^2 + besideM2. */
interface Piece {
  readonly fromM: number;
  readonly toM: number;
  readonly footM: number;
  readonly besideM2: number;
}

/** Steps to either side of a candidate, so that a piece ending there counts on its own side only. */
const HAIR_M = 1e-9;

function piecesOf(path: Polyline, point: PlanPoint, spacingM: number, reachM: number): Piece[] {
  const pieces: Piece[] = [];
  let startM = 0;
  for (let i = 1; i < path.length; i += 1) {
    const a = path[i - 1]!;
    const b = path[i]!;
    const lengthM = distanceM(a, b);
    if (lengthM === 0) continue;
    const footM = startM + ((point.x - a.x) * (b.x - a.x) + (point.y - a.y) * (b.y - a.y)) / lengthM;
    const besideM = ((point.x - a.x) * (b.y - a.y) - (point.y - a.y) * (b.x - a.x)) / lengthM;
    const endM = startM + lengthM;
    const nearestM = Math.hypot(besideM, Math.max(0, startM - footM, footM - endM));
    if (nearestM <= reachM)
      for (let k = Math.floor(startM / spacingM); k * spacingM <= endM; k += 1) {
        const fromM = Math.max(0, startM - k * spacingM);
        const toM = Math.min(spacingM, endM - k * spacingM);
        if (toM >= fromM)
          pieces.push({ fromM, toM, footM: footM - k * spacingM, besideM2: besideM * besideM });
      }
    startM = endM;
  }
  return pieces;
}

function nearestAt(pieces: readonly Piece[], phaseM: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (const { fromM, toM, footM, besideM2 } of pieces)
    if (fromM <= phaseM && phaseM <= toM) least = Math.min(least, (phaseM - footM) ** 2 + besideM2);
  return least;
}

/**
 * Distance from a point to the nearest emitter of one run where the emitters lie as badly for that point as they can:
 * the greatest, over every place the first emitter may have, of the distance to the nearest. Exact: between candidates
 * the nearest emitter moves along one straight piece, where the square of its distance is a parabola, and two parabolas
 * of one curvature cross once at most.
 *
 * @param spacingM of the emitters, > 0
 * @returns m; infinite where the run is shorter than one spacing or has no emitters
 */
export function worstEmitterDistanceM(
  run: Pick<Run, 'path' | 'emittersM'>,
  point: PlanPoint,
  spacingM: number,
): number {
  if (run.emittersM.length === 0) return Number.POSITIVE_INFINITY;
  const reachM = nearestOnPath(point, run.path).distanceM + spacingM;
  const pieces = piecesOf(run.path, point, spacingM, reachM);
  const phases = [0, spacingM];
  pieces.forEach((one, index) => {
    phases.push(one.fromM, one.toM);
    for (const other of pieces.slice(index + 1)) {
      const apartM = other.footM - one.footM;
      if (apartM === 0) continue;
      phases.push((other.footM ** 2 + other.besideM2 - one.footM ** 2 - one.besideM2) / (2 * apartM));
    }
  });
  let worst = 0;
  for (const phase of phases)
    for (const at of [phase - HAIR_M, phase + HAIR_M])
      if (at >= 0 && at <= spacingM) worst = Math.max(worst, nearestAt(pieces, at));
  return Math.sqrt(worst);
}

/**
 * The same over all runs of a route. Runs are laid one after the other from their own tees, so their emitters lie
 * independently and the best run counts with its worst phase.
 *
 * @returns m; infinite where no run has emitters
 */
export function worstWetDistanceM(runs: readonly Run[], point: PlanPoint, spacingM: number): number {
  return runs.reduce((least, run) => {
    // A spur is cut so that its emitter lies where it is drawn: nothing about it is left to chance.
    if (run.use === 'spur')
      return pointsAlong(run.path, run.emittersM).reduce(
        (nearest, { at }) => Math.min(nearest, distanceM(at, point)),
        least,
      );
    const lowerBoundM = run.emittersM.length === 0 ? least : nearestOnPath(point, run.path).distanceM;
    return lowerBoundM >= least ? least : Math.min(least, worstEmitterDistanceM(run, point, spacingM));
  }, Number.POSITIVE_INFINITY);
}
