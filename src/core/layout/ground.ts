import {
  closeGaps,
  dropThinGround,
  intersectRings,
  nestRings,
  type Polygon,
  type Region,
  ringAreaM2,
  simplifyRing,
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
export function followable(region: Region, radiusM: number, thinM = 0): Region {
  return intersectRings(roundBothWays(region, radiusM, thinM), region);
}

/**
 * A region with convex and reflex corners rounded; it may grow a little into its own reflex corners.
 *
 * @param thinM points are thinned to this between offsets, metres: each offset adds points to every curve, and the next takes
 *   longer for it. 0 keeps straight rows exactly straight.
 */
export function roundBothWays(region: Region, radiusM: number, thinM = 0): Region {
  const thinned = (rings: Region): Region =>
    thinM === 0 ? rings : rings.map((ring) => simplifyRing(ring, thinM));
  const opened = dropThinGround(thinned(region), radiusM);
  const closed = closeGaps(thinned(opened), radiusM);
  return dropThinGround(thinned(closed), radiusM);
}
