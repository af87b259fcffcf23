import {
  arcPoints,
  distanceM,
  intersect,
  type MultiPolygon,
  multiPolygonAreaM2,
  nestRings,
  type PlanPoint,
  pointBetween,
  pointInMultiPolygon,
  subtract,
  unite,
} from '../geometry';
import type { Bed, BedEdge, Plan } from '../plan';

/** Ground that no structure on the plan shows, but that the classes of the beds' edges tell of. */
export interface UndrawnGround {
  /** Stands in the way of a trench. */
  readonly blocked: MultiPolygon;
  /** Is passed under in a sleeve. */
  readonly paved: MultiPolygon;
}

/** How deep a house is taken to be behind a foundation that no building was drawn for, m (ours). */
const HOUSE_DEPTH_M = 3;
const BESIDE_M = 0.01;

type Ring = Bed['rings'][number];
const STRAIGHT: BedEdge = { class: null, offsetM: null, sagittaM: 0 };

interface Chord {
  readonly edgeClass: BedEdge['class'];
  readonly points: readonly PlanPoint[];
}

/** The edges of a ring, arcs as chords. */
function chordsOf(ring: Ring): Chord[] {
  return ring.points.map((a, index) => {
    const b = ring.points[(index + 1) % ring.points.length]!;
    const edge = ring.edges[index] ?? STRAIGHT;
    return { edgeClass: edge.class, points: edge.sagittaM === 0 ? [a, b] : arcPoints(a, b, edge.sagittaM) };
  });
}

/** What is cut out of a bed and edged as an obstacle, a foundation or paving is one. */
function cutOuts(rings: readonly Ring[], classes: readonly BedEdge['class'][]): MultiPolygon[] {
  return rings.slice(1).flatMap((ring) => {
    const chords = chordsOf(ring);
    if (!chords.some(({ edgeClass }) => classes.includes(edgeClass))) return [];
    return [nestRings([chords.flatMap(({ points }) => points.slice(0, -1))])];
  });
}

/** The ground behind one straight piece of an edge, on the side away from the beds; null where beds lie on both. */
function behind(a: PlanPoint, b: PlanPoint, beds: MultiPolygon): MultiPolygon | null {
  const lengthM = distanceM(a, b);
  if (lengthM < BESIDE_M) return null;
  const right = { x: (b.y - a.y) / lengthM, y: (a.x - b.x) / lengthM };
  const middle = pointBetween(a, b, 0.5);
  for (const side of [1, -1]) {
    const off = (at: PlanPoint, awayM: number): PlanPoint => ({
      x: at.x + side * right.x * awayM,
      y: at.y + side * right.y * awayM,
    });
    if (!pointInMultiPolygon(off(middle, BESIDE_M), beds)) {
      return nestRings([[a, b, off(b, HOUSE_DEPTH_M), off(a, HOUSE_DEPTH_M)]]);
    }
  }
  return null;
}

/**
 * Ground told of by edge classes alone: what is cut out of a bed and edged as an obstacle or a foundation stands in the way
 * like one that was drawn; what is edged as paving is paved; behind an outer edge along a foundation stands a house. Where
 * a building was drawn there, the drawing is believed.
 *
 * @param beds all beds as designed
 * @param buildings those drawn
 */
export function undrawnGround(plan: Plan, beds: MultiPolygon, buildings: MultiPolygon): UndrawnGround {
  const drawn = Object.values(plan.beds).sort((a, b) => (a.id < b.id ? -1 : 1));
  const houses = drawn.flatMap(({ rings }) =>
    rings.slice(0, 1).flatMap((ring) =>
      chordsOf(ring)
        .filter(({ edgeClass }) => edgeClass === 'foundation')
        .flatMap(({ points }) =>
          points.slice(1).flatMap((b, index) => {
            const strip = behind(points[index]!, b, beds);
            if (!strip || multiPolygonAreaM2(intersect(strip, buildings)) > 0) return [];
            return [subtract(strip, beds)];
          }),
        ),
    ),
  );
  return {
    blocked: unite(...drawn.flatMap(({ rings }) => cutOuts(rings, ['obstacle', 'foundation'])), ...houses),
    paved: unite(...drawn.flatMap(({ rings }) => cutOuts(rings, ['paving']))),
  };
}
