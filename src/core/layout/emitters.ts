/** Tubing is pushed this far onto a barb, so no emitter can sit nearer a cut end than this (common practice, no source). */
const BARB_M = 0.03;

/**
 * Distances of in-line emitters along one piece of tubing.
 *
 * @param lengthM   > 0
 * @param spacingM  > 0, the tubing's own emitter spacing
 * @param firstM    distance of the first emitter from the start, 0 .. spacing
 * @returns ascending distances, none within a barb's length of either end; empty where the piece is too short for one.
 */
export function placeEmitters(lengthM: number, spacingM: number, firstM: number): number[] {
  const count = Math.floor((lengthM - BARB_M - firstM) / spacingM + 1e-9) + 1;
  const from = firstM < BARB_M ? firstM + spacingM : firstM;
  const positions: number[] = [];
  for (let k = 0; k < count; k += 1) {
    const at = from + k * spacingM;
    if (at <= lengthM - BARB_M + 1e-9) positions.push(at);
  }
  return positions;
}

/**
 * Where the first emitter of a run sits: half a spacing from its start, so that the two ends of a loop are one spacing
 * apart across the tee. Every other staggered row begins a whole spacing from the header instead, which turns the
 * square of emitters into a triangle.
 */
export function firstEmitterM(spacingM: number, isStaggeredRow: boolean): number {
  return isStaggeredRow ? spacingM : spacingM / 2;
}

/** Where the first emitter sits on a piece cut so that its last emitter lies one barb from its end. */
export function firstEmitterFromEndM(lengthM: number, spacingM: number): number {
  const lastM = lengthM - BARB_M;
  return lastM <= 0 ? 0 : lastM % spacingM;
}
