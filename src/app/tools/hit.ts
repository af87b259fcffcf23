import {
  type Box,
  boxHolds,
  closeRing,
  distanceM,
  growBox,
  nearestOnPath,
  type PlanPoint,
  pointInRing,
  type Ring,
} from '../../core/geometry';
import {
  type CorneredMap,
  ITEM_MAPS,
  type ItemMap,
  outlineEdge,
  outlinesOf,
  type Plan,
} from '../../core/plan';
import { anchorPoint } from '../canvas/shape/anchor';
import { bedOutline, pictureCorners, structureOutline } from '../canvas/shape/outline';
import type { CornerRef, ItemRef } from '../state/desk';

/** Things with nothing but a place are easier to press than their size on the ground. */
const POINT_MAPS = ['valves', 'sources', 'controllers', 'spots', 'notes', 'plants', 'trees'] as const;

const isInside = (at: PlanPoint, rings: readonly Ring[]): boolean =>
  rings.reduce((inside, ring) => (pointInRing(at, ring) ? !inside : inside), false);

function nearRings(at: PlanPoint, rings: readonly Ring[], box: Box, reachM: number): boolean {
  if (!boxHolds(growBox(box, reachM), at)) return false;
  return (
    isInside(at, rings) ||
    rings.some((ring) => nearestOnPath(at, [...ring, ...ring.slice(0, 1)]).distanceM <= reachM)
  );
}

/** What lies under a press: things with a place first, then lines, then the smallest ground. */
export function itemAt(plan: Plan, at: PlanPoint, reachM: number): ItemRef | null {
  for (const map of POINT_MAPS) {
    for (const item of Object.values(plan[map])) {
      const radiusM = 'trunkRadiusM' in item ? item.trunkRadiusM : 0;
      if (distanceM(item.at, at) <= Math.max(reachM * 1.6, radiusM)) return { map, id: item.id };
    }
  }
  for (const dimension of Object.values(plan.dimensions)) {
    const [from, to] = [anchorPoint(plan, dimension.from), anchorPoint(plan, dimension.to)];
    if (from && to && nearestOnPath(at, [from, to]).distanceM <= reachM + Math.abs(dimension.asideM))
      return { map: 'dimensions', id: dimension.id };
  }
  for (const utility of Object.values(plan.utilities)) {
    if (nearestOnPath(at, utility.path).distanceM <= reachM) return { map: 'utilities', id: utility.id };
  }
  for (const pipe of Object.values(plan.lockedPipes)) {
    if (nearestOnPath(at, pipe.path).distanceM <= reachM) return { map: 'lockedPipes', id: pipe.id };
  }
  const grounds: { readonly ref: ItemRef; readonly sizeM2: number }[] = [];
  const offer = (map: ItemMap, id: string, outline: { rings: readonly Ring[]; box: Box }): void => {
    if (!nearRings(at, outline.rings, outline.box, reachM)) return;
    const { box } = outline;
    grounds.push({ ref: { map, id }, sizeM2: (box.maxX - box.minX) * (box.maxY - box.minY) });
  };
  for (const bed of Object.values(plan.beds)) offer('beds', bed.id, bedOutline(bed));
  for (const one of Object.values(plan.structures)) offer('structures', one.id, structureOutline(one));
  grounds.sort((a, b) => a.sizeM2 - b.sizeM2);
  if (grounds[0]) return grounds[0].ref;
  const loose = Object.values(plan.underlays).find(
    (one) => !one.locked && pointInRing(at, pictureCorners(one)),
  );
  return loose ? { map: 'underlays', id: loose.id } : null;
}

/** The corner, else the edge, of what is chosen under a press. */
export function cornerAt(
  plan: Plan,
  item: { readonly map: CorneredMap; readonly id: string },
  at: PlanPoint,
  reachM: number,
): CornerRef | null {
  const outlines = outlinesOf(plan, item.map, item.id);
  for (const [ringIndex, { points }] of outlines.entries()) {
    const pointIndex = points.findIndex((point) => distanceM(point, at) <= reachM * 1.4);
    if (pointIndex >= 0) return { ...item, ringIndex, pointIndex, part: 'corner' };
  }
  for (const [ringIndex, outline] of outlines.entries()) {
    for (const pointIndex of outline.edges.keys()) {
      if (nearestOnPath(at, outlineEdge(outline, pointIndex)).distanceM <= reachM)
        return { ...item, ringIndex, pointIndex, part: 'edge' };
    }
  }
  return null;
}

/** A place that stands for an item, for choosing by box and for finding it. */
export function placesOf(plan: Plan, { map, id }: ItemRef): readonly PlanPoint[] {
  const bed = map === 'beds' ? plan.beds[id] : undefined;
  if (bed) return bedOutline(bed).rings.flat();
  const structure = map === 'structures' ? plan.structures[id] : undefined;
  if (structure) return structureOutline(structure).rings.flat();
  const item = plan[map][id];
  if (item === undefined) return [];
  if ('at' in item) return [item.at];
  if (map === 'utilities' || map === 'lockedPipes') return plan[map][id]?.path ?? [];
  const underlay = map === 'underlays' ? plan.underlays[id] : undefined;
  if (underlay) return underlay.kind === 'picture' ? closeRing(pictureCorners(underlay)) : [];
  const dimension = map === 'dimensions' ? plan.dimensions[id] : undefined;
  return dimension ? [dimension.from, dimension.to].flatMap((anchor) => anchorPoint(plan, anchor) ?? []) : [];
}

/** Everything that lies wholly inside a ring: a box or a lasso drawn round it. */
export function itemsWithin(plan: Plan, ring: Ring): readonly ItemRef[] {
  return ITEM_MAPS.filter((map) => map !== 'underlays' && map !== 'foreign' && map !== 'readings').flatMap(
    (map) =>
      Object.keys(plan[map])
        .map((id) => ({ map, id }))
        .filter((ref) => {
          const places = placesOf(plan, ref);
          return places.length > 0 && places.every((place) => pointInRing(place, ring));
        }),
  );
}
