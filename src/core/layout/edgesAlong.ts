import { polylineLengthM } from '../geometry';
import type { Bed, Plan, SoilClass } from '../plan';
import { neighboursOf } from './input/neighbours';
import { classOffsetM } from './input/offsets';
import { chainOfEdge, classifyChain } from './input/rings';
import type { EdgeClass } from './types';

/** A stretch of a drawn edge: what it runs along, how far tubing keeps off it at least, and how long it is, metres. */
export interface EdgeStretch {
  readonly class: EdgeClass;
  readonly offsetM: number;
  readonly lengthM: number;
}

/**
 * What every drawn edge of a bed runs along and how far tubing keeps off it, by ring and by edge, in the order of its
 * direction: one stretch, or several where a neighbour begins or ends along the edge. The very classes and offsets the router
 * is given.
 *
 * @param soil  the soil the bed was designed for: on clay a foundation is kept further off
 */
export function edgesAlong(
  plan: Plan,
  bed: Bed,
  soil: SoilClass,
): readonly (readonly (readonly EdgeStretch[])[])[] {
  const neighbours = neighboursOf(
    plan,
    bed.rings.map((ring) => ring.points),
  );
  return bed.rings.map(({ points, edges }) =>
    points.map((a, index) => {
      const b = points[(index + 1) % points.length];
      const edge = edges[index];
      if (!b || !edge) return [];
      return classifyChain(chainOfEdge(a, b, edge), edge, neighbours).map((piece) => ({
        class: piece.class,
        offsetM: edge.offsetM ?? classOffsetM(plan, bed, soil, piece.class),
        lengthM: polylineLengthM(piece.path),
      }));
    }),
  );
}
