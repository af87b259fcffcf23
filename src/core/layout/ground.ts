import {
  closeGaps,
  dropThinGround,
  intersectRings,
  nestRings,
  type Polygon,
  type Region,
  ringAreaM2,
} from '../geometry';

/** The largest piece of a region; null where there is none. */
export function largestPiece(region: Region): Polygon | null {
  let best: Polygon | null = null;
  for (const part of nestRings(region))
    if (!best || ringAreaM2(part.outer) > ringAreaM2(best.outer)) best = part;
  return best;
}

/**
 * A region whose outline tubing can follow: no corner tighter than `radiusM` either way, no neck thinner than twice
 * that. Never outside the given ground: where closing a corner would cross it, the corner stays for the verifier to judge.
 */
export function followable(region: Region, radiusM: number): Region {
  return intersectRings(roundBothWays(region, radiusM), region);
}

/** A region with convex and reflex corners rounded; it may grow a little into its own reflex corners. */
export function roundBothWays(region: Region, radiusM: number): Region {
  return dropThinGround(closeGaps(dropThinGround(region, radiusM), radiusM), radiusM);
}
