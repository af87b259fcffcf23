import {
  circlePoints,
  cleanOutline,
  inflateRings,
  intersectRings,
  type MultiPolygon,
  nestRings,
  type Ring,
  ringsOf,
} from '../../geometry';
import type { Bed, Plan, Structure } from '../../plan';
import type { EdgeClass, LayoutInput, Obstacle } from '../types';
import { structureRings } from './neighbours';

const CLASS_OF = {
  building: 'foundation',
  paving: 'paving',
  fence: 'boundary',
  obstacle: 'obstacle',
} as const;
/** A structure that reaches less than this over a bed's edge stands beside the bed, not in it. */
const BESIDE_REACH_M = 0.1;

/**
 * What stands in a bed and must be kept clear of: structures and tree trunks that reach into it. A structure drawn
 * along an edge is that edge's neighbour instead. Plants are not obstacles: tubing runs between them.
 */
export function obstaclesIn(
  plan: Plan,
  bedRings: readonly Ring[],
  offsetOf: (edgeClass: EdgeClass) => number,
): Obstacle[] {
  const ground = cleanOutline(bedRings).parts;
  const wellInside = inflateRings(ringsOf(ground), -BESIDE_REACH_M);
  if (wellInside.length === 0) return [];
  const structures = sorted(plan.structures).flatMap((structure) =>
    standingIn(structure, wellInside).map((outline, index) => ({
      id: index === 0 ? structure.id : `${structure.id}/${index + 1}`,
      outline,
      clearanceM: structure.clearanceM ?? offsetOf(CLASS_OF[structure.kind]),
    })),
  );
  const trunks = sorted(plan.trees)
    .filter((tree) => tree.trunkRadiusM > 0)
    .map((tree) => ({
      id: tree.id,
      outline: circlePoints(tree.at, tree.trunkRadiusM),
      clearanceM: offsetOf('obstacle'),
    }))
    .filter((trunk) => intersectRings([trunk.outline], ringsOf(ground)).length > 0);
  return [...structures, ...trunks];
}

/** Trees of a bed that may get a ring of tubing: the ring keeps off the trunk by the obstacle's clearance at least. */
export function ringedTreesIn(
  plan: Plan,
  bed: Bed,
  ground: MultiPolygon,
  ringRadiusM: number,
  clearanceM: number,
): LayoutInput['trees'] {
  if (!bed.treeRings) return [];
  return sorted(plan.trees)
    .filter(
      (tree) =>
        intersectRings([circlePoints(tree.at, Math.max(tree.trunkRadiusM, 0.02))], ringsOf(ground)).length >
        0,
    )
    .map((tree) => ({
      id: tree.id,
      at: tree.at,
      trunkRadiusM: tree.trunkRadiusM,
      ringRadiusM: Math.max(ringRadiusM, tree.trunkRadiusM + clearanceM),
    }));
}

function standingIn(structure: Structure, wellInside: readonly Ring[]): Ring[] {
  const rings = structureRings(structure);
  if (rings.length === 0 || intersectRings(rings, wellInside).length === 0) return [];
  return nestRings(rings).map((part) => part.outer);
}

function sorted<T extends { readonly id: string }>(items: Readonly<Record<string, T>>): T[] {
  return Object.values(items).sort((one, other) => (one.id < other.id ? -1 : one.id > other.id ? 1 : 0));
}
