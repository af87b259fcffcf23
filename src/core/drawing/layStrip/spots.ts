import type { Design, DesignedBed } from '../../design';
import { distanceM, type PlanPoint } from '../../geometry';
import type { FixedSpot } from '../../takeoff';
import { drawingWords as words } from '../../words';
import { compassName, headingBetween } from '../bearings';
import { bedCorners } from '../figures';
import { structureRings } from '../ground';

/** A fixed point with the name the strip calls it by. */
export interface NamedSpot extends FixedSpot {
  readonly what: string;
}

/** Further from the bed than this no tape reaches across it. */
const AROUND_M = 20;
/** More corners than this is a curve, whose points nobody finds again. */
const MOST_CORNERS = 14;
const MOST_SPOTS = 40;

const middleOf = (ring: readonly PlanPoint[]): PlanPoint => ({
  x: ring.reduce((sum, p) => sum + p.x, 0) / ring.length,
  y: ring.reduce((sum, p) => sum + p.y, 0) / ring.length,
});

/** Corners of buildings and paving that a tape can be hooked to. */
function structureSpots(design: Design): NamedSpot[] {
  const { plan } = design;
  return Object.values(plan.structures)
    .filter((s) => (s.kind === 'building' || s.kind === 'paving') && s.shape.kind === 'area')
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .flatMap((s) => {
      const ring = structureRings(s)[0] ?? [];
      if (ring.length > MOST_CORNERS) return [];
      return ring.map((at, i) => ({
        id: `${s.id}:${i}`,
        at,
        rank: s.kind === 'building' ? 0 : 1,
        what: words.cornerOf(
          compassName(plan, headingBetween(middleOf(ring), at)),
          s.name || words.structures[s.kind],
        ),
      }));
    });
}

/** Two corners with one name are of no use to a person; the outermost of them keeps it. */
function oneOfEachName(spots: readonly NamedSpot[], middle: PlanPoint): NamedSpot[] {
  const kept = new Map<string, NamedSpot>();
  for (const spot of spots) {
    const known = kept.get(spot.what);
    if (!known || distanceM(spot.at, middle) < distanceM(known.at, middle)) kept.set(spot.what, spot);
  }
  return [...kept.values()];
}

/**
 * Points near a bed to which tapes may be held while it is laid, the nearest first where there are many: corners of buildings
 * and paving, trunks, the stub-ups of other beds and its own, and its staked corners.
 */
export function spotsNear(design: Design, bed: DesignedBed): readonly NamedSpot[] {
  const ring = bed.layout.outline[0]?.outer ?? [];
  if (ring.length === 0) return [];
  const middle = middleOf(ring);
  const reachM = AROUND_M + Math.max(...ring.map((p) => distanceM(p, middle)));
  const standing: NamedSpot[] = [
    ...structureSpots(design),
    ...design.beds
      .filter((other) => other.layout.status === 'routed')
      .map((other) => ({
        id: `${other.id}:stub-up`,
        at: other.layout.stubUp,
        rank: 2,
        what: words.stubUpOf(other.name),
      })),
    ...bedCorners(bed).map((at, i) => ({
      id: `${bed.id}:corner-${i + 1}`,
      at,
      rank: 3,
      what: words.bedCorner(bed.name, i + 1),
    })),
  ];
  return oneOfEachName(standing, middle)
    .filter((spot) => distanceM(spot.at, middle) <= reachM)
    .sort((a, b) => distanceM(a.at, middle) - distanceM(b.at, middle) || (a.id < b.id ? -1 : 1))
    .slice(0, MOST_SPOTS);
}
