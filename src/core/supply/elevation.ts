import { boxHolds, boxOf, centroid, type PlanPoint, pointInPolygon, type Ring } from '../geometry';
import type { Bed, Plan } from '../plan';

/** Height of the ground at a plan point, metres above the plan's datum. */
export type HeightAt = (point: PlanPoint) => number;

/** The ground of a plan: anywhere, and within one bed (where the bed's own height and slope outrank the spots). */
export interface Ground {
  readonly at: HeightAt;
  readonly inBed: (bedId: string) => HeightAt;
}

interface Anchor {
  readonly at: PlanPoint;
  readonly elevationM: number;
}

/** Heights the designer measured: spots, and whatever drawn thing has an elevation of its own. */
function anchorsOf(plan: Plan): Anchor[] {
  const anchors: Anchor[] = Object.values(plan.spots).map(({ at, elevationM }) => ({ at, elevationM }));
  for (const { at, elevationM } of [...Object.values(plan.sources), ...Object.values(plan.valves)]) {
    if (elevationM !== null) anchors.push({ at, elevationM });
  }
  for (const bed of Object.values(plan.beds)) {
    if (bed.elevationM !== null) anchors.push({ at: middleOf(bed), elevationM: bed.elevationM });
  }
  return anchors;
}

/**
 * Height between measured heights: each counts by the inverse square of its distance (Shepard 1968); 0 where none is
 * known. Never above the highest nor below the lowest measured.
 */
function heightBetween(anchors: readonly Anchor[], point: PlanPoint): number {
  let weights = 0;
  let sum = 0;
  for (const anchor of anchors) {
    const squared = (anchor.at.x - point.x) ** 2 + (anchor.at.y - point.y) ** 2;
    if (squared < 1e-8) return anchor.elevationM;
    weights += 1 / squared;
    sum += anchor.elevationM / squared;
  }
  return weights === 0 ? 0 : sum / weights;
}

function middleOf(bed: Bed): PlanPoint {
  const outer = bed.rings[0]?.points ?? [];
  if (outer.length < 3) return outer[0] ?? { x: 0, y: 0 };
  const middle = centroid({ outer, holes: [] });
  return Number.isFinite(middle.x) && Number.isFinite(middle.y) ? middle : outer[0]!;
}

/** Height within one bed: its own plane where it has a slope and a bearing, else the ground moved to its own height. */
function bedHeight(plan: Plan, bed: Bed, open: HeightAt): HeightAt {
  const middle = middleOf(bed);
  const baseM = bed.elevationM ?? open(middle);
  if (bed.slopeRatio === null || bed.slopeTowardRad === null) {
    if (Object.keys(plan.spots).length === 0) return () => baseM;
    const shiftM = baseM - open(middle);
    return (point) => open(point) + shiftM;
  }
  const northRad = plan.georeference?.bearingRad ?? 0;
  const east = Math.sin(bed.slopeTowardRad - northRad);
  const north = Math.cos(bed.slopeTowardRad - northRad);
  const ratio = bed.slopeRatio;
  return (point) => baseM - ratio * ((point.x - middle.x) * east + (point.y - middle.y) * north);
}

/** The ground of a plan, from spot heights, the heights of drawn things, and each bed's own height and slope. */
export function groundOf(plan: Plan): Ground {
  const anchors = anchorsOf(plan);
  const open: HeightAt = (point) => heightBetween(anchors, point);
  const beds = Object.values(plan.beds).map((bed) => {
    const outer: Ring = bed.rings[0]?.points ?? [];
    return { id: bed.id, outer, box: boxOf(outer), height: bedHeight(plan, bed, open) };
  });
  const byId = new Map(beds.map((bed) => [bed.id, bed.height]));
  return {
    at: (point) => {
      const bed = beds.find(
        ({ box, outer }) => box && boxHolds(box, point) && pointInPolygon(point, { outer, holes: [] }),
      );
      return (bed?.height ?? open)(point);
    },
    inBed: (bedId) => byId.get(bedId) ?? open,
  };
}

/** Height of the ground at any plan point, m above the datum; 0 everywhere where no height was given. */
export function elevationFor(plan: Plan): HeightAt {
  return groundOf(plan).at;
}
