import {
  inflateRings,
  intersectRings,
  type Region,
  type Ring,
  ringAreaM2,
  signedRingAreaM2,
  simplifyRing,
  subtractRings,
} from '../../geometry';
import { largest } from './teeth';

/** A drawn arc may lose this much of its height when points are thinned, metres. */
const THIN_M = 4e-4;

/**
 * The outline with every corner bent to at least `radiusM`: opened for the convex ones, closed for the reflex ones, kept
 * on the ground. Null where that would tear the loop, close ground in, or lose more than a little of it.
 */
export function roundCorners(outline: Ring, ground: Region, radiusM: number): Ring | null {
  const areaM2 = ringAreaM2(outline);
  const opened = inflateRings(inflateRings([outline], -radiusM), radiusM);
  const closed = inflateRings(inflateRings(opened, radiusM), -radiusM);
  const outer = ground.filter((ring) => signedRingAreaM2(ring) > 0);
  const holes = ground.filter((ring) => signedRingAreaM2(ring) < 0).map((ring) => [...ring].reverse());
  const inside = intersectRings(closed, outer);
  const bitten = holes.length > 0 ? intersectRings(holes, subtractRings(closed, [outline])) : [];
  const region = bitten.length > 0 ? subtractRings(inside, bitten) : inside;
  const ring = largest(region);
  if (!ring) return null;
  const isTorn = region.some(
    (other) => other !== ring && Math.abs(signedRingAreaM2(other)) > 0.2 * radiusM ** 2,
  );
  if (isTorn || ringAreaM2(ring) < 0.93 * areaM2) return null;
  return simplifyRing(ring, THIN_M);
}
