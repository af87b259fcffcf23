import { arcPoints, distanceM, type PlanPoint, type Polyline } from '../geometry';
import type { Bed, BedEdge, DrawnArc, Plan, Structure } from './schema';

/** Maps whose items are drawn corner by corner. */
export const CORNERED_MAPS = ['beds', 'structures', 'utilities', 'lockedPipes'] as const;
export type CorneredMap = (typeof CORNERED_MAPS)[number];

/** An outline, or a line, as it was drawn: edge i leaves corner i, and an open line has one edge fewer than corners. */
export interface DrawnOutline {
  readonly points: readonly PlanPoint[];
  /** `sagittaM` as of a bed's edge: positive bulges to the right of the way, 0 is straight. */
  readonly edges: readonly { readonly sagittaM: number }[];
  readonly isClosed: boolean;
}

/** The points an item is stored by, with the arcs among them. */
export interface FlatOutline {
  readonly points: readonly PlanPoint[];
  readonly arcs: readonly DrawnArc[];
  /** Which of the points is each corner. */
  readonly corners: readonly number[];
}

/** Points stored of an arc may be this far from where the arc says before it is taken for broken: the drawing's grid. */
const ON_ARC_M = 0.001;

/** The points of one edge, both ends included; empty where there is no such edge. */
export function outlineEdge(outline: DrawnOutline, edgeIndex: number): Polyline {
  const from = outline.points[edgeIndex];
  const to = outline.points[(edgeIndex + 1) % outline.points.length];
  const edge = outline.edges[edgeIndex];
  return from && to && edge ? arcPoints(from, to, edge.sagittaM) : [];
}

/** An outline with its arcs as points, as everything but a bed is stored, so that whoever reads it needs to know of no arcs. */
export function flattened(outline: DrawnOutline, ringIndex: number): FlatOutline {
  const points: PlanPoint[] = [];
  const arcs: DrawnArc[] = [];
  const corners: number[] = [];
  outline.points.forEach((at, index) => {
    const fromIndex = points.length;
    corners.push(fromIndex);
    points.push(at);
    const between = outlineEdge(outline, index).slice(1, -1);
    if (between.length === 0) return;
    points.push(...between);
    const toIndex = index + 1 === outline.points.length ? 0 : points.length;
    arcs.push({ ringIndex, fromIndex, toIndex, sagittaM: outline.edges[index]?.sagittaM ?? 0 });
  });
  return { points, arcs, corners };
}

/** The stored points that an arc covers, its ends included; null where they are not the arc's any more: it was edited elsewhere. */
function coveredBy(arc: DrawnArc, points: readonly PlanPoint[], isClosed: boolean): readonly number[] | null {
  const end = arc.toIndex === 0 && isClosed ? points.length : arc.toIndex;
  const [from, to] = [points[arc.fromIndex], points[end % points.length]];
  if (!from || !to || end <= arc.fromIndex) return null;
  const drawn = arcPoints(from, to, arc.sagittaM);
  const covered = drawn.map((_point, index) => arc.fromIndex + index);
  const isWhole = covered.at(-1) === end;
  const lies = drawn.every((point, index) => {
    const stored = points[(arc.fromIndex + index) % points.length];
    return stored !== undefined && distanceM(stored, point) <= ON_ARC_M;
  });
  return isWhole && lies ? covered : null;
}

/** What was drawn, read back from what is stored. */
export function asDrawn(
  points: readonly PlanPoint[],
  arcs: readonly DrawnArc[],
  isClosed: boolean,
): { readonly outline: DrawnOutline; readonly corners: readonly number[] } {
  const hidden = new Set<number>();
  const sagittas = new Map<number, number>();
  for (const arc of arcs) {
    const covered = coveredBy(arc, points, isClosed);
    if (covered === null || covered.some((index) => hidden.has(index))) continue;
    sagittas.set(arc.fromIndex, arc.sagittaM);
    for (const index of covered.slice(1, -1)) hidden.add(index);
  }
  const corners = points.flatMap((_point, index) => (hidden.has(index) ? [] : [index]));
  const edged = isClosed ? corners : corners.slice(0, -1);
  const outline: DrawnOutline = {
    points: corners.flatMap((index) => points[index] ?? []),
    edges: edged.map((index) => ({ sagittaM: sagittas.get(index) ?? 0 })),
    isClosed,
  };
  return { outline, corners };
}

/** What an item other than a bed is stored by: its rings, or its one path. Null for what has no corners. */
export function storedPoints(
  plan: Pick<Plan, 'structures' | 'utilities' | 'lockedPipes'>,
  map: Exclude<CorneredMap, 'beds'>,
  id: string,
): {
  readonly chains: readonly (readonly PlanPoint[])[];
  readonly arcs: readonly DrawnArc[];
  readonly isClosed: boolean;
} | null {
  if (!Object.hasOwn(plan[map], id)) return null;
  if (map !== 'structures') {
    const line = plan[map][id];
    return line === undefined ? null : { chains: [line.path], arcs: line.arcs ?? [], isClosed: false };
  }
  const shape = plan.structures[id]?.shape;
  if (shape === undefined || shape.kind === 'disc') return null;
  const arcs = shape.arcs ?? [];
  return shape.kind === 'area'
    ? { chains: shape.rings, arcs, isClosed: true }
    : { chains: [shape.path], arcs, isClosed: false };
}

const bedOutlines = (bed: Bed): DrawnOutline[] =>
  bed.rings.map(({ points, edges }) => ({ points, edges: edges as readonly BedEdge[], isClosed: true }));

/** Every outline of an item, corner by corner; empty for what is not drawn by corners. */
export function outlinesOf(plan: Plan, map: string, id: string): readonly DrawnOutline[] {
  if (map === 'beds') {
    const bed = plan.beds[id];
    return bed === undefined ? [] : bedOutlines(bed);
  }
  if (map !== 'structures' && map !== 'utilities' && map !== 'lockedPipes') return [];
  const stored = storedPoints(plan, map, id);
  return (stored?.chains ?? []).map(
    (chain, ringIndex) =>
      asDrawn(
        chain,
        stored?.arcs.filter((arc) => arc.ringIndex === ringIndex) ?? [],
        stored?.isClosed ?? true,
      ).outline,
  );
}

/** The shape of a structure from an outline as drawn. */
export function areaShape(outline: DrawnOutline): Structure['shape'] {
  const { points, arcs } = flattened(outline, 0);
  return { kind: 'area', rings: [[...points]], ...(arcs.length > 0 ? { arcs: [...arcs] } : {}) };
}
