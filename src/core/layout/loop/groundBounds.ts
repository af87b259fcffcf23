import { type PlanPoint, pointInRing, type Region, SegmentIndex } from '../../geometry';

/** The edges of the ground, asked how deep inside it a point lies. */
export class GroundBounds {
  private readonly edges: SegmentIndex;

  constructor(private readonly ground: Region) {
    this.edges = SegmentIndex.ofRings(ground);
  }

  isInside(point: PlanPoint): boolean {
    let isInside = false;
    for (const ring of this.ground) if (pointInRing(point, ring)) isInside = !isInside;
    return isInside;
  }

  /** The point moved off the nearest edge, so far that a disc of `radiusM` round it lies on the ground but for corners. */
  heldInside(point: PlanPoint, radiusM: number): PlanPoint {
    const near = this.edges.nearest(point);
    if (!near) return point;
    const isInside = this.isInside(point);
    if (isInside && near.distanceM >= radiusM) return point;
    const { a, b } = near.segment;
    // On the edge itself there is no way off it but its own normal.
    const inward =
      near.distanceM > 1e-6
        ? { x: (point.x - near.at.x) / near.distanceM, y: (point.y - near.at.y) / near.distanceM }
        : {
            x: (a.y - b.y) / Math.hypot(a.x - b.x, a.y - b.y),
            y: (b.x - a.x) / Math.hypot(a.x - b.x, a.y - b.y),
          };
    const moveM = isInside || near.distanceM <= 1e-6 ? radiusM : -radiusM;
    return { x: near.at.x + moveM * inward.x, y: near.at.y + moveM * inward.y };
  }
}
