import { type Polyline, SegmentIndex } from '../../core/geometry';
import type { Bed, Plan } from '../../core/plan';
import { edgePoints, structureOutline } from '../canvas/shape/outline';

/** The lines of a plan that a pointer can catch, and which of their chains stand for curves. */
export interface CatchIndex {
  readonly index: SegmentIndex;
  readonly isSmooth: (chain: number) => boolean;
  /** What a chain belongs to, in words: "bed A's edge". */
  readonly ownerOf: (chain: number) => string;
}

const indexes = new WeakMap<Plan, CatchIndex>();

interface Chain {
  readonly path: Polyline;
  readonly isSmooth: boolean;
  readonly owner: string;
}

function bedChains(bed: Bed): Chain[] {
  const owner = bed.name === '' ? 'the bed' : bed.name;
  return bed.rings.flatMap((ring) =>
    ring.points.flatMap((point, index): Chain[] => {
      const path = edgePoints(ring, index);
      const isSmooth = path.length > 2;
      return isSmooth
        ? [
            { path: [point, point], isSmooth: false, owner },
            { path, isSmooth, owner },
          ]
        : [{ path, isSmooth, owner }];
    }),
  );
}

/** Found once for each plan: a plan never changes, so neither does what can be caught on it. */
export function catchIndexOf(plan: Plan): CatchIndex {
  const known = indexes.get(plan);
  if (known) return known;
  const chains: Chain[] = [
    ...Object.values(plan.beds).flatMap(bedChains),
    ...Object.values(plan.structures).flatMap((structure) => {
      const { shape } = structure;
      const owner = structure.name === '' ? `the ${structure.kind}` : structure.name;
      const rings = structureOutline(structure).rings.map((ring) => [...ring, ...ring.slice(0, 1)]);
      const isSmooth = shape.kind === 'disc';
      return rings.map((path) => ({ path, isSmooth, owner }));
    }),
    ...Object.values(plan.utilities).map((utility) => ({
      path: utility.path,
      isSmooth: false,
      owner: utility.name === '' ? 'the buried line' : utility.name,
    })),
    ...[...Object.values(plan.trees), ...Object.values(plan.sources), ...Object.values(plan.valves)].map(
      (item) => ({
        path: [item.at, item.at],
        isSmooth: false,
        owner: item.name,
      }),
    ),
  ];
  const found: CatchIndex = {
    index: SegmentIndex.ofPaths(chains.map((chain) => chain.path)),
    isSmooth: (chain) => chains[chain]?.isSmooth ?? false,
    ownerOf: (chain) => chains[chain]?.owner ?? '',
  };
  indexes.set(plan, found);
  return found;
}
