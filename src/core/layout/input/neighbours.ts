import {
  boxesTouch,
  boxOf,
  boxOfAll,
  circlePoints,
  distanceM,
  growBox,
  inflatePath,
  inflateRings,
  type PlanPoint,
  pointInRing,
  type Ring,
  segmentCrossing,
  uniteRings,
} from '../../geometry';
import type { Plan, Structure } from '../../plan';
import type { EdgeClass } from '../types';

/** An edge drawn within a hand's breadth of a wall or a walk runs along it. */
const ALONG_REACH_M = 0.1;
/** A line of no width still has a post's thickness. */
const LINE_HALF_WIDTH_M = 0.01;

const CLASS_OF = {
  building: 'foundation',
  paving: 'paving',
  fence: 'boundary',
  obstacle: 'obstacle',
} as const;
/** Where two neighbours share a stretch, the one that asks for more care names it. */
const CARE: readonly Structure['kind'][] = ['building', 'fence', 'paving', 'obstacle'];

/** Ground of a structure as rings: an area as drawn, a line with its width, a disc. */
export function structureRings(structure: Structure): Ring[] {
  const { shape } = structure;
  if (shape.kind === 'area') return uniteRings(shape.rings, 'even-odd');
  if (shape.kind === 'line') return inflatePath(shape.path, Math.max(shape.widthM / 2, LINE_HALF_WIDTH_M));
  return shape.radiusM > 0 ? [circlePoints(shape.at, shape.radiusM)] : [];
}

/** A structure ready to be asked whether an edge runs along it. */
export interface Neighbour {
  readonly class: EdgeClass;
  readonly care: number;
  /** The structure grown by the reach within which an edge counts as running along it. */
  readonly reach: readonly Ring[];
}

/** Everything of the plan that names the edges beside it and comes near the bed. Sorted by care, then id. */
export function neighboursOf(plan: Plan, bedRings: readonly Ring[]): Neighbour[] {
  const bedBox = boxOfAll(bedRings);
  if (!bedBox) return [];
  const around = growBox(bedBox, 2 * ALONG_REACH_M);
  return Object.values(plan.structures)
    .map((structure) => ({ structure, rings: structureRings(structure) }))
    .filter(({ rings }) => {
      const box = boxOfAll(rings);
      return box !== null && boxesTouch(box, around);
    })
    .map(({ structure, rings }) => ({
      id: structure.id,
      class: CLASS_OF[structure.kind],
      care: CARE.indexOf(structure.kind),
      reach: inflateRings(rings, ALONG_REACH_M),
    }))
    .sort((one, other) => one.care - other.care || (one.id < other.id ? -1 : 1));
}

/** A stretch of an edge, as distances along it, with the class it takes from what it runs along; null where nothing is beside it. */
export interface Stretch {
  readonly fromM: number;
  readonly toM: number;
  readonly class: EdgeClass | null;
}

function isInside(point: PlanPoint, rings: readonly Ring[]): boolean {
  let inside = false;
  for (const ring of rings) if (pointInRing(point, ring)) inside = !inside;
  return inside;
}

function crossingsAlong(a: PlanPoint, b: PlanPoint, rings: readonly Ring[]): number[] {
  const box = boxOf([a, b])!;
  const found: number[] = [];
  for (const ring of rings) {
    ring.forEach((c, i) => {
      const d = ring[(i + 1) % ring.length]!;
      if (!boxesTouch(box, boxOf([c, d])!)) return;
      const at = segmentCrossing(a, b, c, d);
      if (at) found.push(distanceM(a, at));
    });
  }
  return found;
}

/** Cuts a chain of straight chords wherever it comes to or leaves a neighbour, and says what each stretch runs along. */
export function stretchesAlong(chain: readonly PlanPoint[], neighbours: readonly Neighbour[]): Stretch[] {
  const stretches: Stretch[] = [];
  let startM = 0;
  for (let i = 1; i < chain.length; i += 1) {
    const a = chain[i - 1]!;
    const b = chain[i]!;
    const lengthM = distanceM(a, b);
    if (lengthM === 0) continue;
    const cuts = neighbours.flatMap((neighbour) => crossingsAlong(a, b, neighbour.reach));
    const ends = [0, ...cuts.sort((one, other) => one - other), lengthM];
    for (let k = 1; k < ends.length; k += 1) {
      const fromM = ends[k - 1]!;
      const toM = ends[k]!;
      if (toM - fromM < 1e-6) continue;
      const ratio = (fromM + toM) / 2 / lengthM;
      const middle = { x: a.x + (b.x - a.x) * ratio, y: a.y + (b.y - a.y) * ratio };
      const beside = neighbours.find((neighbour) => isInside(middle, neighbour.reach));
      append(stretches, { fromM: startM + fromM, toM: startM + toM, class: beside?.class ?? null });
    }
    startM += lengthM;
  }
  return dropTouches(stretches);
}

function append(stretches: Stretch[], next: Stretch): void {
  const last = stretches.at(-1);
  if (last && last.class === next.class) stretches[stretches.length - 1] = { ...last, toM: next.toM };
  else stretches.push(next);
}

/** An edge that only meets a neighbour with its end (a wall at right angles) does not run along it. */
function dropTouches(stretches: readonly Stretch[]): Stretch[] {
  const lengthM = stretches.at(-1)?.toM ?? 0;
  const leastM = Math.min(3 * ALONG_REACH_M, 0.6 * lengthM);
  const kept: Stretch[] = [];
  for (const stretch of stretches) {
    const isTouch = stretch.class !== null && stretch.toM - stretch.fromM < leastM;
    append(kept, isTouch ? { ...stretch, class: null } : stretch);
  }
  return kept;
}
