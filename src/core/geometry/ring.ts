import type { PlanPoint, Ring } from './types';
import { distanceM } from './vector';

/** Area of a ring in m2, positive where it runs anticlockwise (shoelace formula). */
export function signedRingAreaM2(ring: Ring): number {
  let twice = 0;
  for (let index = 0, before = ring.length - 1; index < ring.length; before = index++) {
    const a = ring[before]!;
    const b = ring[index]!;
    twice += a.x * b.y - b.x * a.y;
  }
  return twice / 2;
}

/** Area enclosed by a ring in m2, whichever way it runs. */
export function ringAreaM2(ring: Ring): number {
  return Math.abs(signedRingAreaM2(ring));
}

/** Does the ring run anticlockwise, as outer rings must? */
export function isAnticlockwise(ring: Ring): boolean {
  return signedRingAreaM2(ring) > 0;
}

/** The same ring run the other way. */
export function reverseRing(ring: Ring): PlanPoint[] {
  return [...ring].reverse();
}

/** The ring running the wanted way; the very ring where it does already. */
export function orientRing(ring: Ring, way: 'anticlockwise' | 'clockwise'): Ring {
  return isAnticlockwise(ring) === (way === 'anticlockwise') ? ring : reverseRing(ring);
}

/** Length round a ring in metres, the closing edge included. */
export function ringLengthM(ring: Ring): number {
  let lengthM = 0;
  for (let index = 0, before = ring.length - 1; index < ring.length; before = index++)
    lengthM += distanceM(ring[before]!, ring[index]!);
  return lengthM;
}

/** A ring as the closed path a run is stored as: its first point repeated at the end. */
export function closeRing(ring: Ring): PlanPoint[] {
  return ring.length === 0 ? [] : [...ring, ring[0]!];
}

/** A closed path as a ring: the repeated last point dropped. An open path comes back as it is. */
export function openRing(path: readonly PlanPoint[]): Ring {
  const first = path[0];
  const last = path.at(-1);
  return path.length > 1 && first && last && first.x === last.x && first.y === last.y
    ? path.slice(0, -1)
    : path;
}
