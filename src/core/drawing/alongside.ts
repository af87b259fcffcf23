import type { DesignedBed } from '../design';
import { type PlanPoint, pointsAlong, polylineLengthM, ringsOf, SegmentIndex } from '../geometry';
import type { Plan, Structure } from '../plan';
import { structureRings } from './ground';

/** How close to a bed's outline something must run to be what its edge runs along, m. */
const BESIDE_M = 0.2;
const SAMPLE_M = 0.25;

/** The least distance of a bed's tubing from something its edge runs along, and where to show it. */
export interface Alongside {
  readonly kind: 'building' | 'paving' | 'fence' | 'open';
  readonly structure: Structure | null;
  readonly distanceM: number;
  /** A point of the tubing at that distance, and the point of the edge opposite it. */
  readonly at: PlanPoint;
  readonly edge: PlanPoint;
}

interface Sample {
  readonly at: PlanPoint;
  readonly edge: PlanPoint;
  readonly distanceM: number;
}

function samplesOf(bed: DesignedBed): readonly PlanPoint[] {
  return bed.layout.runs
    .filter((run) => run.emittersM.length > 0)
    .flatMap((run) => {
      const totalM = polylineLengthM(run.path);
      const count = Math.min(1500, Math.ceil(totalM / SAMPLE_M));
      const at = Array.from({ length: count }, (_, i) => ((i + 0.5) * totalM) / count);
      return pointsAlong(run.path, at).map((on) => on.at);
    });
}

const FURTHEST_M = 3;
const NEARLY_M = 0.02;

/**
 * Of the points nearly as near to something as the nearest that counts, the middle one: where a dimension stands clear of
 * corners. Each is looked for only as far as it could still be one of them, which spares most of the work.
 */
function shownSample(
  points: readonly PlanPoint[],
  index: SegmentIndex,
  counts: (edge: PlanPoint) => boolean,
): Sample | null {
  let leastM = FURTHEST_M;
  const samples: Sample[] = [];
  for (const at of points) {
    const near = index.nearest(at, Math.min(FURTHEST_M, leastM + NEARLY_M));
    if (!near || !counts(near.at)) continue;
    leastM = Math.min(leastM, near.distanceM);
    samples.push({ at, edge: near.at, distanceM: near.distanceM });
  }
  const near = samples.filter((s) => s.distanceM < leastM + NEARLY_M);
  return near[Math.floor(near.length / 2)] ?? null;
}

/** What was found of a bed in a plan: every plan page of a set asks again, and its tables once more. */
const remembered = new WeakMap<DesignedBed, { readonly plan: Plan; readonly along: readonly Alongside[] }>();

/** What the edges of a bed run along, with the distance of its first row from each, as routed. */
export function alongsideOf(plan: Plan, bed: DesignedBed): readonly Alongside[] {
  const known = remembered.get(bed);
  if (known?.plan === plan) return known.along;
  const along = lookAlongside(plan, bed);
  remembered.set(bed, { plan, along });
  return along;
}

function lookAlongside(plan: Plan, bed: DesignedBed): readonly Alongside[] {
  const outline = SegmentIndex.ofRings(ringsOf(bed.layout.outline));
  const points = samplesOf(bed);
  if (points.length === 0) return [];
  const found: Alongside[] = [];
  const taken: SegmentIndex[] = [];
  for (const structure of Object.values(plan.structures).sort((a, b) => (a.id < b.id ? -1 : 1))) {
    if (structure.kind === 'obstacle') continue;
    const index = SegmentIndex.ofRings(structureRings(structure).map((r) => [...r]));
    const isBeside = outline.segments.some((s) => {
      const middle = { x: (s.a.x + s.b.x) / 2, y: (s.a.y + s.b.y) / 2 };
      return index.nearest(middle, BESIDE_M) !== null;
    });
    if (!isBeside) continue;
    taken.push(index);
    const shown = shownSample(points, index, () => true);
    if (shown) found.push({ kind: structure.kind, structure, ...shown });
  }
  const shown = shownSample(
    points,
    outline,
    (edge) => !taken.some((index) => index.nearest(edge, BESIDE_M) !== null),
  );
  if (shown) found.push({ kind: 'open', structure: null, ...shown });
  return found;
}
