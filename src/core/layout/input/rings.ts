import { arcPoints, type PlanPoint, pointAlong, polylineLengthM, slicePath } from '../../geometry';
import type { Bed, BedEdge } from '../../plan';
import type { BedRing, EdgeClass } from '../types';
import { type Neighbour, stretchesAlong } from './neighbours';

const STRAIGHT: BedEdge = { class: null, offsetM: null, sagittaM: 0 };

/** An edge as chords, both ends included. */
export const chainOfEdge = (a: PlanPoint, b: PlanPoint, edge: BedEdge): PlanPoint[] =>
  edge.sagittaM === 0 ? [a, b] : arcPoints(a, b, edge.sagittaM);

/**
 * A drawn ring with its arcs as chords and a class and an offset on every chord. A class the designer gave is kept;
 * else it comes from what the edge runs along, and an edge beside a neighbour over part of its length is cut there.
 */
export function classifyRing(
  ring: Bed['rings'][number],
  neighbours: readonly Neighbour[],
  offsetOf: (edgeClass: EdgeClass) => number,
): BedRing {
  const points: PlanPoint[] = [];
  const edges: BedRing['edges'][number][] = [];
  ring.points.forEach((a, index) => {
    const b = ring.points[(index + 1) % ring.points.length]!;
    const edge = ring.edges[index] ?? STRAIGHT;
    const chain = chainOfEdge(a, b, edge);
    for (const piece of classifyChain(chain, edge, neighbours)) {
      for (const point of piece.path.slice(0, -1)) {
        points.push(point);
        edges.push({ class: piece.class, offsetM: edge.offsetM ?? offsetOf(piece.class) });
      }
    }
  });
  return { points, edges };
}

/** A piece of an edge that runs along one thing. */
export interface ClassedPiece {
  readonly path: readonly PlanPoint[];
  readonly class: EdgeClass;
}

/** The pieces of one edge, in its direction, each with its class: the designer's where there is one, else of what it runs along. */
export function classifyChain(
  chain: PlanPoint[],
  edge: BedEdge,
  neighbours: readonly Neighbour[],
): ClassedPiece[] {
  if (edge.class !== null) return [{ path: chain, class: edge.class }];
  const stretches =
    neighbours.length > 0 && polylineLengthM(chain) > 0 ? stretchesAlong(chain, neighbours) : [];
  if (stretches.length <= 1) return [{ path: chain, class: stretches[0]?.class ?? 'open' }];
  const lengthM = polylineLengthM(chain);
  return stretches.map((stretch) => {
    const isFirst = stretch.fromM <= 0;
    const isLast = stretch.toM >= lengthM;
    const path = slicePath(chain, stretch.fromM, stretch.toM);
    const start = isFirst ? chain[0]! : pointAlong(chain, stretch.fromM).at;
    const end = isLast ? chain.at(-1)! : pointAlong(chain, stretch.toM).at;
    return { path: [start, ...path.slice(1, -1), end], class: stretch.class ?? 'open' };
  });
}
