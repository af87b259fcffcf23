import {
  distanceM,
  distancesAlongM,
  headingRad,
  nearestOnSegment,
  type PlanPoint,
  type Ring,
} from '../../geometry';

/** A point of a ring near to another point, and how far along the ring it lies. */
export interface NearPlace {
  readonly at: PlanPoint;
  readonly alongM: number;
  readonly distanceM: number;
}

/** A closed ring measured once, to be walked and looked at from many places. Anticlockwise: its ground lies to the left. */
export class RingWalk {
  private readonly alongM: readonly number[];
  private readonly totalM: number;

  constructor(readonly ring: Ring) {
    this.alongM = distancesAlongM([...ring, ring[0]!]);
    this.totalM = this.alongM.at(-1)!;
  }

  /** The nearest point of every edge that comes within a distance of a point. */
  placesWithin(point: PlanPoint, withinM: number): NearPlace[] {
    const places: NearPlace[] = [];
    for (let edge = 0; edge < this.ring.length; edge++) {
      const a = this.ring[edge]!;
      const b = this.after(edge);
      if (isBeyond(point, a, b, withinM)) continue;
      const near = nearestOnSegment(point, a, b);
      if (near.distanceM > withinM) continue;
      places.push({
        at: near.at,
        alongM: this.alongM[edge]! + near.ratio * distanceM(a, b),
        distanceM: near.distanceM,
      });
    }
    return places;
  }

  /** Does the ring keep a distance from a point, but for what lies within `own.reachM` along it of `own.alongM`? */
  isClear(
    point: PlanPoint,
    leastM: number,
    own: { readonly alongM: number; readonly reachM: number } | null,
  ): boolean {
    return this.placesWithin(point, leastM).every((place) => {
      if (place.distanceM >= leastM) return true;
      if (!own) return false;
      const apartM = Math.abs(place.alongM - own.alongM);
      return Math.min(apartM, this.totalM - apartM) < own.reachM;
    });
  }

  /** How far the heading changes, radians without sign, between two stretches of `overM`, each beginning or ending `awayM` from a place. */
  turnedRad(alongM: number, awayM: number, overM: number): number {
    const before = this.wayRad(alongM - awayM - overM, alongM - awayM);
    const after = this.wayRad(alongM + awayM, alongM + awayM + overM);
    const turned = Math.abs(after - before);
    return Math.min(turned, 2 * Math.PI - turned);
  }

  /** The point beside the ring at a place, `leftM` to the left of it; to the right where negative. */
  besideAt(alongM: number, leftM: number): PlanPoint {
    const { at, ux, uy } = this.pointAt(alongM);
    return { x: at.x - uy * leftM, y: at.y + ux * leftM };
  }

  private after(edge: number): PlanPoint {
    return this.ring[edge + 1] ?? this.ring[0]!;
  }

  private wayRad(fromM: number, toM: number): number {
    return headingRad(this.pointAt(fromM).at, this.pointAt(toM).at);
  }

  private pointAt(alongM: number): { readonly at: PlanPoint; readonly ux: number; readonly uy: number } {
    const wantedM = ((alongM % this.totalM) + this.totalM) % this.totalM;
    let low = 0;
    let high = this.ring.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.alongM[middle]! <= wantedM) low = middle;
      else high = middle - 1;
    }
    const a = this.ring[low]!;
    const b = this.after(low);
    const lengthM = distanceM(a, b) || 1;
    const ux = (b.x - a.x) / lengthM;
    const uy = (b.y - a.y) / lengthM;
    const overM = wantedM - this.alongM[low]!;
    return { at: { x: a.x + ux * overM, y: a.y + uy * overM }, ux, uy };
  }
}

const isBeyond = (point: PlanPoint, a: PlanPoint, b: PlanPoint, byM: number): boolean =>
  Math.min(a.x, b.x) - point.x > byM ||
  point.x - Math.max(a.x, b.x) > byM ||
  Math.min(a.y, b.y) - point.y > byM ||
  point.y - Math.max(a.y, b.y) > byM;
