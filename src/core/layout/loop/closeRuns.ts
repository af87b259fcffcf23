import {
  distanceBetweenSegmentsM,
  distanceM,
  inPieces,
  type PlanPoint,
  type Polyline,
  pointBetween,
  segmentsCross,
} from '../../geometry';
import { NodeGrid } from './nodeGrid';

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
  const longestM = spacingM / 4;
  const pieces = loops.flatMap((loop, chain) => piecesOf(inPieces(loop, longestM), chain));
  const totalsM = loops.map((_, chain) => pieces.findLast((piece) => piece.chain === chain)?.toM ?? 0);
  const neighbourM = NEIGHBOUR_RATIO * spacingM;
  // Two pieces may be near where their middles are no further apart than this: half of each piece lies between.
  const reachM = minSeparationM + longestM;
  const middleX = Float64Array.from(pieces, ({ a, b }) => (a.x + b.x) / 2);
  const middleY = Float64Array.from(pieces, ({ a, b }) => (a.y + b.y) / 2);
  const grid = new NodeGrid(middleX, middleY, [...pieces.keys()], reachM);
  const found: CloseRuns[] = [];
  let order = 0;
  let piece: LoopPiece;
  let totalM: number;
  let later: number[] = [];
  const note = (other: number): void => {
    if (other <= order) return;
    const acrossM = middleX[other]! - middleX[order]!;
    const upM = middleY[other]! - middleY[order]!;
    if (acrossM * acrossM + upM * upM >= reachM * reachM) return;
    // Most of what lies near is the same row going on: it is not worth sorting.
    if (!areNeighbours(piece, pieces[other]!, totalM, neighbourM)) later.push(other);
  };
  for (; order < pieces.length; order++) {
    piece = pieces[order]!;
    totalM = totalsM[piece.chain]!;
    later = [];
    grid.visit(middleX[order]!, middleY[order]!, reachM, note);
    for (const index of later.sort((one, other) => one - other)) {
      const other = pieces[index]!;
      const wholeM = betweenM(piece, other);
      if (wholeM >= minSeparationM) continue;
      const distance = other.chain === piece.chain ? apartM(piece, other, totalM, neighbourM) : wholeM;
      if (distance < minSeparationM) found.push({ one: piece.a, other: other.a, distanceM: distance });
    }
  }
  return found;
}

/** A straight piece of a loop, and how far along it begins and ends. */
interface LoopPiece {
  readonly a: PlanPoint;
  readonly b: PlanPoint;
  readonly fromM: number;
  readonly toM: number;
  readonly chain: number;
}

function piecesOf(path: Polyline, chain: number): LoopPiece[] {
  let fromM = 0;
  return path.slice(1).map((b, edge) => {
    const a = path[edge]!;
    const piece = { a, b, fromM, toM: fromM + distanceM(a, b), chain };
    fromM = piece.toM;
    return piece;
  });
}

/** Do two pieces of one loop, the first earlier along it, lie near each other along the tubing, from end to end? */
function areNeighbours(one: LoopPiece, other: LoopPiece, totalM: number, neighbourM: number): boolean {
  if (one.chain !== other.chain) return false;
  return Math.min(other.toM - one.fromM, totalM - (other.fromM - one.toM)) <= neighbourM;
}

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
  if (parts === 1 || areNeighbours(one, other, totalM, neighbourM)) return Number.POSITIVE_INFINITY;
  let leastM = Number.POSITIVE_INFINITY;
  for (const first of inParts(one, parts))
    for (const second of inParts(other, parts))
      leastM = Math.min(leastM, apartM(first, second, totalM, neighbourM, 1));
  return leastM;
}

function inParts({ a, b, fromM, toM, chain }: LoopPiece, parts: number): LoopPiece[] {
  const partM = (toM - fromM) / parts;
  return Array.from({ length: parts }, (_, part) => ({
    a: pointBetween(a, b, part / parts),
    b: pointBetween(a, b, (part + 1) / parts),
    fromM: fromM + part * partM,
    toM: fromM + (part + 1) * partM,
    chain,
  }));
}
