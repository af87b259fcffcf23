/** Least wetted diameter over a spacing for the wet ground to join below the surface. Source: NRCS NEH 623 ch. 7, from memory. */
export const LEAST_WETTED_SHARE = 0.8;

/**
 * The widest spacing (m) at which what emitters wet still joins below the surface.
 * @param wettedDiameterM  of one emitter on that soil, > 0
 */
export function widestJoinedSpacingM(wettedDiameterM: number): number {
  return wettedDiameterM / LEAST_WETTED_SHARE;
}
