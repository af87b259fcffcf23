import Flatbush from 'flatbush';
import { boxOf, growBox } from './box';
import { distanceToSegmentM, nearestOnSegment, segmentsMeet } from './distance';
import type { Box, PlanPoint, Polyline, Ring } from './types';
import { distanceM, pointBetween } from './vector';

/** Length of the pieces that a straight way is followed in, metres: about two rows. */
const WAY_PIECE_M = 1;
/** Points on a way are rounded by less than this, metres. */
const ROUNDING_M = 1e-9;

/** One straight piece in the index: its ends, which chain it belongs to and where in it. */
export interface IndexedSegment {
  readonly a: PlanPoint;
  readonly b: PlanPoint;
  readonly chain: number;
  readonly edge: number;
}

/** What lies nearest to a point. */
export interface NearestSegment {
  readonly segment: IndexedSegment;
  readonly at: PlanPoint;
  readonly distanceM: number;
  readonly ratio: number;
}

/** Segments found by place instead of one after another. Built once from immutable chains; never changes. */
export class SegmentIndex {
  private readonly tree: Flatbush | null;

  private constructor(readonly segments: readonly IndexedSegment[]) {
    this.tree = segments.length > 0 ? new Flatbush(segments.length) : null;
    for (const { a, b } of segments)
      this.tree?.add(Math.min(a.x, b.x), Math.min(a.y, b.y), Math.max(a.x, b.x), Math.max(a.y, b.y));
    this.tree?.finish();
  }

  /** Index of open chains (a closed path repeats its first point). */
  static ofPaths(paths: readonly Polyline[]): SegmentIndex {
    return new SegmentIndex(
      paths.flatMap((path, chain) => path.slice(1).map((b, edge) => ({ a: path[edge]!, b, chain, edge }))),
    );
  }

  /** Index of rings, their closing edges included. */
  static ofRings(rings: readonly Ring[]): SegmentIndex {
    return new SegmentIndex(
      rings.flatMap((ring, chain) =>
        ring.map((a, edge) => ({ a, b: ring[(edge + 1) % ring.length]!, chain, edge })),
      ),
    );
  }

  /** Segments whose box touches `box`, in the order they were given. */
  touching(box: Box): IndexedSegment[] {
    const found = this.tree?.search(box.minX, box.minY, box.maxX, box.maxY) ?? [];
    return found.sort((one, other) => one - other).map((index) => this.segments[index]!);
  }

  /** Does a straight way cross or touch any of the segments? It is followed piece by piece: only what lies along it is looked at. */
  isMet(a: PlanPoint, b: PlanPoint): boolean {
    const pieces = Math.max(1, Math.ceil(distanceM(a, b) / WAY_PIECE_M));
    let from = a;
    for (let piece = 1; piece <= pieces; piece++) {
      const to = piece === pieces ? b : pointBetween(a, b, piece / pieces);
      const about = growBox(boxOf([from, to])!, ROUNDING_M);
      if (this.touching(about).some((segment) => segmentsMeet(a, b, segment.a, segment.b))) return true;
      from = to;
    }
    return false;
  }

  /** Segments that may come within `radiusM` of a point (by their boxes). */
  near(point: PlanPoint, radiusM: number): IndexedSegment[] {
    return this.touching({
      minX: point.x - radiusM,
      minY: point.y - radiusM,
      maxX: point.x + radiusM,
      maxY: point.y + radiusM,
    });
  }

  /** The nearest segment to a point, among those `accepts` lets through; null where none is within `withinM`. */
  nearest(
    point: PlanPoint,
    withinM = Number.POSITIVE_INFINITY,
    accepts: (segment: IndexedSegment) => boolean = () => true,
  ): NearestSegment | null {
    if (!this.tree || !this.segments[0]) return null;
    const { minX, minY, maxX, maxY } = this.tree;
    const furthestM = Math.min(
      withinM,
      Math.hypot(Math.max(maxX - point.x, point.x - minX), Math.max(maxY - point.y, point.y - minY)),
    );
    const first = this.tree.neighbors(point.x, point.y, 1, withinM, (index) =>
      accepts(this.segments[index]!),
    );
    if (first.length === 0) return null;
    let best = this.measure(point, this.segments[first[0]!]!);
    const reachM = Math.min(best.distanceM, furthestM);
    for (const segment of this.near(point, reachM)) {
      if (!accepts(segment)) continue;
      const near = this.measure(point, segment);
      if (near.distanceM < best.distanceM) best = near;
    }
    return best.distanceM <= withinM ? best : null;
  }

  /** How far the nearest segment lies from a point, among those `accepts` lets through; infinite where none is within `withinM`. */
  nearestM(point: PlanPoint, withinM: number, accepts: (segment: IndexedSegment) => boolean): number {
    let leastM = Number.POSITIVE_INFINITY;
    for (const segment of this.near(point, withinM)) {
      const awayM = distanceToSegmentM(point, segment.a, segment.b);
      if (awayM <= withinM && awayM < leastM && accepts(segment)) leastM = awayM;
    }
    return leastM;
  }

  private measure(point: PlanPoint, segment: IndexedSegment): NearestSegment {
    return { segment, ...nearestOnSegment(point, segment.a, segment.b) };
  }
}
