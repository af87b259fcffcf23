import type { PlanPoint } from '../../../src/core/geometry';
import type { Plan } from '../../../src/core/plan';
import type { SupplyDesign } from '../../../src/core/supply';

/** Something a trench must go round, as the designer drew it. */
export interface Standing {
  readonly id: string;
  readonly ring: readonly PlanPoint[];
}

/** A circle as 96 chords. */
const disc = (at: PlanPoint, radiusM: number): PlanPoint[] =>
  Array.from({ length: 96 }, (_, k) => ({
    x: at.x + radiusM * Math.cos((k * 2 * Math.PI) / 96),
    y: at.y + radiusM * Math.sin((k * 2 * Math.PI) / 96),
  }));

/** Buildings, obstacles, trunks and root balls of a plan, and what is cut out of its beds and edged as one of them. */
export function standingOn(plan: Plan): Standing[] {
  const cutOut = Object.values(plan.beds).flatMap(({ id, rings }) =>
    rings
      .slice(1)
      .filter(({ edges }) => edges.some((edge) => edge.class === 'obstacle' || edge.class === 'foundation'))
      .map(({ points }, index) => ({ id: `${id}, cut-out ${index + 1}`, ring: points })),
  );
  const drawn = Object.values(plan.structures).flatMap(({ id, kind, shape }): Standing[] => {
    if (kind !== 'building' && kind !== 'obstacle') return [];
    if (shape.kind === 'area') return [{ id, ring: shape.rings[0]! }];
    return shape.kind === 'disc' ? [{ id, ring: disc(shape.at, shape.radiusM) }] : [];
  });
  const grown = [
    ...Object.values(plan.trees).map(({ id, at, trunkRadiusM }) => ({ id, ring: disc(at, trunkRadiusM) })),
    ...Object.values(plan.plants).map(({ id, at, rootBallRadiusM }) => ({
      id,
      ring: disc(at, rootBallRadiusM),
    })),
  ];
  return [...cutOut, ...drawn, ...grown];
}

const offSegmentM = (p: PlanPoint, a: PlanPoint, b: PlanPoint): number => {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const squared = dx * dx + dy * dy;
  const t = squared === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / squared));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
};

/** How deep a point lies inside a ring, m: 0 outside. A ray to the east crosses an odd number of edges from inside. */
export function depthInsideM(p: PlanPoint, ring: readonly PlanPoint[]): number {
  let isInside = false;
  let edgeM = Number.POSITIVE_INFINITY;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    const isPast = a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x);
    if (isPast) isInside = !isInside;
    edgeM = Math.min(edgeM, offSegmentM(p, a, b));
  });
  return isInside ? edgeM : 0;
}

/** Points along a path no further apart than a step. */
function walked(path: readonly PlanPoint[], stepM: number): PlanPoint[] {
  return path.slice(1).flatMap((b, i) => {
    const a = path[i]!;
    const count = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / stepM));
    return Array.from({ length: count + 1 }, (_, k) => ({
      x: a.x + ((b.x - a.x) * k) / count,
      y: a.y + ((b.y - a.y) * k) / count,
    }));
  });
}

/** A wall may be touched: deeper than this is inside, m. */
const TOUCHED_M = 0.005;

/**
 * What of a supply lies inside something that stands on the plan, said in words: mains, headers and wires walked in steps
 * of 25 mm, and the place of every box, valve, drain point and other device. Plain arithmetic, none of the trench search's.
 */
export function buriedIn(plan: Plan, supply: SupplyDesign): string[] {
  const standing = standingOn(plan);
  const pipes = [...supply.main, ...supply.zones.flatMap((zone) => zone.pipes)];
  const ways = [
    ...pipes.map(({ id, path }) => ({ id, points: walked(path, 0.025) })),
    ...supply.wires.map(({ zoneId, path }) => ({ id: `wire ${zoneId}`, points: walked(path, 0.025) })),
    ...[...supply.devices, ...supply.zones.flatMap((zone) => zone.devices)].map(({ id, at }) => ({
      id,
      points: [at],
    })),
    ...supply.zones.map(({ id, assemblyAt }) => ({ id: `box of ${id}`, points: [assemblyAt] })),
    ...supply.zones.flatMap(({ drains }) => drains.map(({ nodeId, at }) => ({ id: nodeId, points: [at] }))),
  ];
  return ways.flatMap(({ id, points }) =>
    standing.flatMap(({ id: what, ring }) => {
      const deepestM = points.reduce((deepest, point) => Math.max(deepest, depthInsideM(point, ring)), 0);
      return deepestM > TOUCHED_M ? [`${id} lies ${deepestM.toFixed(3)} m inside ${what}`] : [];
    }),
  );
}
