import {
  distanceBetweenSegmentsM,
  distanceM,
  distancesAlongM,
  inflateRings,
  innerPoint,
  nestRings,
  type PlanPoint,
  type Polygon,
  type Polyline,
  polygonAreaM2,
  type Region,
  type Ring,
  ringsOf,
  SegmentIndex,
  segmentsCross,
  signedRingAreaM2,
  subtractRings,
  turnRad,
} from '../../geometry';

/** Ground further than this many row spacings from tubing is left dry. */
export const DRY_RATIO = 0.55;
/** Parts of a loop nearer along the tubing than this many spacings are neighbours, not two runs side by side. */
const NEIGHBOUR_RATIO = 1.4;
/** Slivers of dry ground narrower than this are the chords of arcs, metres squared. */
const DRY_DIRT_M2 = 1e-4;

/** A patch of ground left dry. */
export interface DryPatch {
  readonly polygon: Polygon;
  readonly areaM2: number;
  /** Its point furthest from tubing, and how far. */
  readonly at: PlanPoint;
  readonly distanceM: number;
}

/** Ground of the bed further than 0.55 of the spacing from the loops, with its furthest points. */
export function dryPatches(loops: readonly Ring[], ground: Region, spacingM: number): DryPatch[] {
  const reachM = DRY_RATIO * spacingM;
  const wet = loops.flatMap((loop) =>
    subtractRings(inflateRings([loop], reachM), inflateRings([loop], -reachM)),
  );
  const index = SegmentIndex.ofRings(loops);
  return nestRings(subtractRings(ground, wet))
    .map((polygon) => ({ polygon, areaM2: polygonAreaM2(polygon) }))
    .filter((patch) => patch.areaM2 > DRY_DIRT_M2)
    .map(({ polygon, areaM2 }) => {
      const middle = innerPoint(polygon)?.at;
      const candidates = [...(middle ? [middle] : []), ...ringsOf([polygon]).flat()];
      let at = candidates[0]!;
      let furthestM = 0;
      for (const point of candidates) {
        const distance = index.nearest(point)?.distanceM ?? 0;
        if (distance > furthestM) {
          furthestM = distance;
          at = point;
        }
      }
      return { polygon, areaM2, at, distanceM: furthestM };
    })
    .sort((one, other) => other.areaM2 - one.areaM2 || one.at.x - other.at.x || one.at.y - other.at.y);
}

/** Two parts of the tubing nearer than they may be. */
export interface CloseRuns {
  readonly one: PlanPoint;
  readonly other: PlanPoint;
  readonly distanceM: number;
}

/** Every place where parts of the loops come nearer than `minSeparationM`; crossings count as 0. */
export function closeRuns(loops: readonly Polyline[], spacingM: number, minSeparationM: number): CloseRuns[] {
  const pieces = loops.map((loop) => inPieces(loop, spacingM / 4));
  const along = pieces.map(distancesAlongM);
  const index = SegmentIndex.ofPaths(pieces);
  const found: CloseRuns[] = [];
  index.segments.forEach((segment, order) => {
    const box = {
      minX: Math.min(segment.a.x, segment.b.x) - minSeparationM,
      minY: Math.min(segment.a.y, segment.b.y) - minSeparationM,
      maxX: Math.max(segment.a.x, segment.b.x) + minSeparationM,
      maxY: Math.max(segment.a.y, segment.b.y) + minSeparationM,
    };
    for (const other of index.touching(box)) {
      const isLater =
        other.chain > segment.chain || (other.chain === segment.chain && other.edge > segment.edge);
      if (!isLater || other === index.segments[order]) continue;
      if (other.chain === segment.chain) {
        const chain = along[segment.chain]!;
        const apart = Math.abs(chain[other.edge]! - chain[segment.edge]!);
        if (Math.min(apart, chain.at(-1)! - apart) <= NEIGHBOUR_RATIO * spacingM) continue;
      }
      const distance = segmentsCross(segment.a, segment.b, other.a, other.b)
        ? 0
        : distanceBetweenSegmentsM(segment.a, segment.b, other.a, other.b);
      if (distance < minSeparationM) found.push({ one: segment.a, other: other.a, distanceM: distance });
    }
  });
  return found;
}

/** A chain with points added so that no piece is longer than `stepM`. */
export function inPieces(path: Polyline, stepM: number): PlanPoint[] {
  const points: PlanPoint[] = path[0] ? [path[0]] : [];
  for (let index = 1; index < path.length; index++) {
    const a = path[index - 1]!;
    const b = path[index]!;
    const steps = Math.max(1, Math.ceil(distanceM(a, b) / stepM));
    for (let step = 1; step <= steps; step++)
      points.push({ x: a.x + ((b.x - a.x) * step) / steps, y: a.y + ((b.y - a.y) * step) / steps });
  }
  return points;
}

/** Turns of a loop: places where the heading changes by more than 60 degrees within 0.6 of a spacing. */
export function countTurns(loop: Polyline, spacingM: number): number {
  let turns = 0;
  let turnedRad = 0;
  let travelledM = 0;
  for (let index = 1; index + 1 < loop.length; index++) {
    travelledM += distanceM(loop[index - 1]!, loop[index]!);
    if (travelledM > 0.6 * spacingM) {
      turnedRad = 0;
      travelledM = 0;
    }
    turnedRad += turnRad(loop[index - 1]!, loop[index]!, loop[index + 1]!);
    if (Math.abs(turnedRad) > Math.PI / 3) {
      turns++;
      turnedRad = 0;
      travelledM = 0;
    }
  }
  return turns;
}

/** Ground of a region, holes taken off, m2. */
export function groundM2(region: Region): number {
  return region.reduce((sum, ring) => sum + signedRingAreaM2(ring), 0);
}
