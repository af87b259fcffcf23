import { type PlanPoint, pointsAlong, polylineLengthM, SegmentIndex } from '../geometry';
import type { Run } from './types';

/**
 * Share of neighbouring emitters, along rows and across them, whose wetted circles overlap when the emitters of
 * neighbouring rows lie as badly as they can: half an emitter spacing out of step. In one continuous loop the phase
 * follows from its length and nobody chooses it, so the worst is what can be promised.
 *
 * @param wettedDiameterM  of one emitter, > 0
 * @returns 0 .. 1; 1 where there is no pair at all
 */
export function worstPhaseOverlap(
  runs: readonly Run[],
  emitterSpacingM: number,
  rowSpacingM: number,
  wettedDiameterM: number,
): number {
  const wet = runs.filter((run) => run.emittersM.length > 0);
  if (wet.length === 0) return 1;
  const index = SegmentIndex.ofPaths(wet.map((run) => run.path));
  const alongOf = wet.map((run) => startsOf(run.path));
  let pairs = 0;
  let overlapping = 0;
  const lookM = 1.5 * rowSpacingM;
  wet.forEach((run, chain) => {
    const lengthM = run.lengthM;
    const neighboursM = Math.max(1.4 * rowSpacingM, 1.5 * emitterSpacingM);
    const points = pointsAlong(run.path, run.emittersM);
    points.forEach((point, k) => {
      const alongM = run.emittersM[k]!;
      pairs += 1;
      if (emitterSpacingM <= wettedDiameterM) overlapping += 1;
      const acrossM = index.nearestM(point.at, lookM, (segment) => {
        if (segment.chain !== chain) return true;
        const apartM = Math.abs(alongOf[chain]![segment.edge]! - alongM);
        const endApartM = Math.abs(alongOf[chain]![segment.edge + 1]! - alongM);
        const nearestM = Math.min(apartM, endApartM);
        const isHere =
          alongOf[chain]![segment.edge]! <= alongM && alongM <= alongOf[chain]![segment.edge + 1]!;
        return (
          !isHere &&
          Math.min(nearestM, run.closed ? lengthM - Math.max(apartM, endApartM) : nearestM) > neighboursM
        );
      });
      if (acrossM === Number.POSITIVE_INFINITY) return;
      pairs += 1;
      if (Math.hypot(acrossM, emitterSpacingM / 2) <= wettedDiameterM) overlapping += 1;
    });
  });
  return pairs === 0 ? 1 : overlapping / pairs;
}

function startsOf(path: readonly PlanPoint[]): number[] {
  const starts = [0];
  for (let i = 1; i < path.length; i += 1)
    starts.push(starts[i - 1]! + polylineLengthM([path[i - 1]!, path[i]!]));
  return starts;
}
