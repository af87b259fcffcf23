import {
  distanceBetweenSegmentsM,
  distanceM,
  distancesAlongM,
  inPieces,
  type PlanPoint,
  type Polyline,
  pointBetween,
  SegmentIndex,
  segmentsCross,
} from '../../geometry';

/** Parts of a loop nearer along the tubing than this many spacings are neighbours, not two runs side by side. */
const NEIGHBOUR_RATIO = 1.4;

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
  const neighbourM = NEIGHBOUR_RATIO * spacingM;
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
      const chain = along[segment.chain]!;
      const distance =
        other.chain === segment.chain
          ? apartM(
              pieceOf(segment, chain[segment.edge]!),
              pieceOf(other, chain[other.edge]!),
              chain.at(-1)!,
              neighbourM,
            )
          : betweenM(segment, other);
      if (distance < minSeparationM) found.push({ one: segment.a, other: other.a, distanceM: distance });
    }
  });
  return found;
}

/** A straight piece of a loop, and how far along it begins and ends. */
interface LoopPiece {
  readonly a: PlanPoint;
  readonly b: PlanPoint;
  readonly fromM: number;
  readonly toM: number;
}

const pieceOf = ({ a, b }: { a: PlanPoint; b: PlanPoint }, fromM: number): LoopPiece => ({
  a,
  b,
  fromM,
  toM: fromM + distanceM(a, b),
});

const betweenM = (one: { a: PlanPoint; b: PlanPoint }, other: { a: PlanPoint; b: PlanPoint }): number =>
  segmentsCross(one.a, one.b, other.a, other.b)
    ? 0
    : distanceBetweenSegmentsM(one.a, one.b, other.a, other.b);

/** Pieces that only partly count as neighbours are looked at in so many parts. */
const FINE_PARTS = 3;

/**
 * Distance between two pieces of one loop, the first earlier along it, where they are no neighbours; infinite where they are.
 * Of pieces that are neighbours in part, only the parts far enough apart along the tubing count.
 */
function apartM(
  one: LoopPiece,
  other: LoopPiece,
  totalM: number,
  neighbourM: number,
  parts = FINE_PARTS,
): number {
  const nearestM = Math.min(other.fromM - one.toM, totalM - (other.toM - one.fromM));
  if (nearestM > neighbourM) return betweenM(one, other);
  const furthestM = Math.min(other.toM - one.fromM, totalM - (other.fromM - one.toM));
  if (parts === 1 || furthestM <= neighbourM) return Number.POSITIVE_INFINITY;
  let leastM = Number.POSITIVE_INFINITY;
  for (const first of inParts(one, parts))
    for (const second of inParts(other, parts))
      leastM = Math.min(leastM, apartM(first, second, totalM, neighbourM, 1));
  return leastM;
}

function inParts({ a, b, fromM, toM }: LoopPiece, parts: number): LoopPiece[] {
  const partM = (toM - fromM) / parts;
  return Array.from({ length: parts }, (_, part) => ({
    a: pointBetween(a, b, part / parts),
    b: pointBetween(a, b, (part + 1) / parts),
    fromM: fromM + part * partM,
    toM: fromM + (part + 1) * partM,
  }));
}
