import {
  distanceM,
  inflatePath,
  inflateRings,
  orientRing,
  type PlanPoint,
  pointInRing,
  type Region,
  type Ring,
  subtractRings,
  uniteRings,
} from '../../geometry';
import type { DryPatch } from './defects';
import type { GroundBounds } from './groundBounds';
import type { RingWalk } from './ringWalk';

/** Tubing is brought this near to the driest point of a patch, in row spacings. */
const REACHED_RATIO = 0.48;
/** A patch is reached from tubing within this many times its nearest distance. */
const FURTHER_RATIO = 1.35;
/** At most this many places are tried for a patch. */
const MOST_PLACES = 3;
/** A dent deeper than this many spacings is a finger of its own, its two sides as near as they may be. */
const FINGER_RATIO = 0.5;
/** How much longer the slope at each side of a shallow dent is than the dent is deep: a heading that changes by 17 degrees. */
const SLOPE_RATIO = 3.2;
/** A dent shallower than this many spacings is not worth a bend. */
const LEAST_DEPTH_RATIO = 0.03;
/** Nor is one that goes less than this share of the way. */
const LEAST_SHARE = 0.3;
/** Tubing turns at a row's end: its heading changes by more than this from 0.75 of a spacing before to 0.75 after. */
const ROW_END_RAD = Math.PI / 4;

/** A place where tubing is laid a little further out, or in, to reach a dry patch. */
export interface Dent {
  /** Index of the ring it is made in. */
  readonly ring: number;
  /** Is its ground taken into the loop, or out of it? */
  readonly kind: 'out' | 'in';
  readonly region: Region;
  /** The driest point of the patch it is for. */
  readonly at: PlanPoint;
}

/** What dents are made by, metres. */
export interface DentLimits {
  readonly spacingM: number;
  readonly minSeparationM: number;
  readonly bendRadiusM: number;
  readonly bounds: GroundBounds;
}

/**
 * Ways to reach a dry patch from the tubing about it, rows' ends before straight rows, nearest first: the tubing is dented
 * towards the patch, wide and shallow where little is wanted, a finger of two runs where much is. The tip of none comes
 * nearer to other tubing than two runs may, the other row of its own pair included: the middle of a row stays straight but
 * where its pair is wide.
 */
export function dentsFor(walks: readonly RingWalk[], patch: DryPatch, limits: DentLimits): Dent[] {
  return placesAround(walks, patch, limits.spacingM).flatMap(
    (place) => dentAt(walks, place, patch, limits) ?? [],
  );
}

/** The rings with some dents made, one region a ring. Corners are still sharp; a region of several rings has torn. */
export function dentRings(rings: readonly Ring[], dents: readonly Dent[]): Region[] {
  return rings.map((ring, index) => {
    const regionOf = (kind: Dent['kind']): Region =>
      dents.flatMap((dent) => (dent.ring === index && dent.kind === kind ? dent.region : []));
    const outward = regionOf('out');
    const inward = regionOf('in');
    const grown = outward.length > 0 ? uniteRings([ring, ...outward]) : [ring];
    return inward.length > 0 ? subtractRings(grown, uniteRings(inward)) : grown;
  });
}

interface Place {
  readonly ring: number;
  readonly at: PlanPoint;
  readonly alongM: number;
  readonly distanceM: number;
}

function placesAround(walks: readonly RingWalk[], patch: DryPatch, spacingM: number): Place[] {
  const near = walks
    .flatMap((walk, ring) =>
      walk.placesWithin(patch.at, FURTHER_RATIO * patch.distanceM).map((place) => ({ ...place, ring })),
    )
    .sort((one, other) => one.distanceM - other.distanceM || one.alongM - other.alongM);
  const places: Place[] = [];
  for (const place of near) {
    if (places.length >= MOST_PLACES) break;
    const isNew = places.every(
      (known) =>
        known.ring !== place.ring ||
        distanceM(known.at, place.at) > Math.min(1.5 * spacingM, patch.distanceM),
    );
    if (isNew) places.push(place);
  }
  const turns = ({ ring, alongM }: Place): boolean =>
    walks[ring]!.turnedRad(alongM, 0.75 * spacingM, 0.3 * spacingM) > ROW_END_RAD;
  return [...places.filter(turns), ...places.filter((place) => !turns(place))];
}

/** The dent from a place towards a patch; null where other tubing leaves it no room. */
function dentAt(walks: readonly RingWalk[], place: Place, patch: DryPatch, limits: DentLimits): Dent | null {
  const { spacingM, minSeparationM } = limits;
  const walk = walks[place.ring]!;
  const kind = pointInRing(patch.at, walk.ring) ? 'in' : 'out';
  const radiusM = 1.02 * Math.max(minSeparationM / 2, limits.bendRadiusM);
  const ahead = (depthM: number): PlanPoint => {
    const ratio = (depthM - radiusM) / place.distanceM;
    return {
      x: place.at.x + ratio * (patch.at.x - place.at.x),
      y: place.at.y + ratio * (patch.at.y - place.at.y),
    };
  };
  /** The middle of the dent's tip: one taken into the loop has to lie on the ground, bend and all. */
  const tipAt = (depthM: number): PlanPoint =>
    kind === 'out' ? limits.bounds.heldInside(ahead(depthM), radiusM) : ahead(depthM);
  const wantedM = place.distanceM - REACHED_RATIO * spacingM;
  const leastM = Math.max(LEAST_DEPTH_RATIO * spacingM, LEAST_SHARE * wantedM);
  let depthM = wantedM;
  while (
    depthM < place.distanceM &&
    distanceM(tipAt(depthM), patch.at) - radiusM > REACHED_RATIO * spacingM + 1e-6
  )
    depthM += 0.05 * spacingM;
  const isFree = (): boolean =>
    walks.every((other, ring) =>
      other.isClear(
        tipAt(depthM),
        minSeparationM + radiusM,
        ring === place.ring ? { alongM: place.alongM, reachM: 1.6 * spacingM + 2 * depthM } : null,
      ),
    );
  while (depthM >= leastM && !isFree()) depthM *= 0.7;
  if (depthM < leastM) return null;
  const tip = tipAt(depthM);
  if (depthM >= FINGER_RATIO * spacingM)
    return { ring: place.ring, kind, region: inflatePath([tipAt(0), tip], radiusM), at: patch.at };
  const slopeM = radiusM + SLOPE_RATIO * depthM;
  const inwardM = kind === 'out' ? radiusM : -radiusM;
  const shoulders = [-slopeM, slopeM].map((aside) => walk.besideAt(place.alongM + aside, inwardM));
  return {
    ring: place.ring,
    kind,
    region: inflateRings([orientRing([...shoulders, tip], 'anticlockwise')], radiusM),
    at: patch.at,
  };
}
