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
  const opened = dropThinGround(region, radiusM);
  const closed = dropThinGround(closeGaps(opened, radiusM), radiusM);
  return intersectRings(closed, region);
}
