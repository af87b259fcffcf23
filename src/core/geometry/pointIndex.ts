import Flatbush from 'flatbush';
import type { PlanPoint } from './types';

/** Points found by place instead of one after another. Built once; never changes. */
export class PointIndex {
  private readonly tree: Flatbush | null;

  constructor(points: readonly PlanPoint[]) {
    this.tree = points.length > 0 ? new Flatbush(points.length) : null;
    for (const { x, y } of points) this.tree?.add(x, y, x, y);
    this.tree?.finish();
  }

  /** Numbers of the points nearest to a place among those `isWanted`, at most `most` of them, the nearest first. */
  nearest(place: PlanPoint, most: number, isWanted: (point: number) => boolean): readonly number[] {
    return (
      this.tree?.neighbors(place.x, place.y, most, Number.POSITIVE_INFINITY, (index) => isWanted(index)) ?? []
    );
  }
}
