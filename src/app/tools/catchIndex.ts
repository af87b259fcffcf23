import { type PlanPoint, type Polyline, SegmentIndex } from '../../core/geometry';
import { type DrawnOutline, outlineEdge, outlinesOf, type Plan, type Structure } from '../../core/plan';
import { structureOutline } from '../canvas/shape/outline';

/** The lines of a plan that a pointer can catch, and which of their chains stand for curves. */
export interface CatchIndex {
  readonly index: SegmentIndex;
  readonly isSmooth: (chain: number) => boolean;
  /** What a chain belongs to, in words: "bed A's edge". */
  readonly ownerOf: (chain: number) => string;
  /** True where a chain moves when this very corner is moved. */
  readonly follows: (chain: number, corner: PlanPoint) => boolean;
}

/** A place that is not drawn on the plan but designed, as a valve box or a stub-up, and what a person calls it. */
export interface DesignedPlace {
  readonly at: PlanPoint;
  readonly owner: string;
}

const NO_PLACES: readonly DesignedPlace[] = [];
const indexes = new WeakMap<
  Plan,
  { readonly places: readonly DesignedPlace[]; readonly index: CatchIndex }
>();

interface Chain {
  readonly path: Polyline;
  readonly isSmooth: boolean;
  readonly owner: string;
  /** The corners it follows when they are moved. */
  readonly corners: readonly PlanPoint[];
}

/** Every edge of a thing drawn by corners; of an arc also where it begins. */
const edgeChains = (outlines: readonly DrawnOutline[], owner: string): Chain[] =>
  outlines.flatMap((outline) =>
    outline.edges.flatMap((_edge, index): Chain[] => {
      const path = outlineEdge(outline, index);
      const [from, to] = [path[0], path.at(-1)];
      if (!from || !to) return [];
      const isSmooth = path.length > 2;
      const start: Chain[] = isSmooth
        ? [{ path: [from, from], isSmooth: false, owner, corners: [from] }]
        : [];
      return [...start, { path, isSmooth, owner, corners: [from, to] }];
    }),
  );

/** A boulder, and the sides of a walk or a fence, follow everything they are drawn by. */
function structureChains(plan: Plan, structure: Structure): Chain[] {
  const owner = structure.name === '' ? `the ${structure.kind}` : structure.name;
  const outlines = outlinesOf(plan, 'structures', structure.id);
  if (structure.shape.kind === 'area') return edgeChains(outlines, owner);
  const corners = outlines.flatMap((outline) => outline.points);
  return structureOutline(structure).rings.map((ring) => ({
    path: [...ring, ...ring.slice(0, 1)],
    isSmooth: structure.shape.kind === 'disc',
    owner,
    corners,
  }));
}

const PIPE_OWNERS = { main: 'the main', header: 'the header', wire: 'the wire' } as const;

/** Found once for each plan and its designed places: neither ever changes, so neither does what can be caught on them. */
export function catchIndexOf(plan: Plan, places: readonly DesignedPlace[] = NO_PLACES): CatchIndex {
  const known = indexes.get(plan);
  if (known?.places === places) return known.index;
  const chains: Chain[] = [
    ...Object.values(plan.beds).flatMap((bed) =>
      edgeChains(outlinesOf(plan, 'beds', bed.id), bed.name === '' ? 'the bed' : bed.name),
    ),
    ...Object.values(plan.structures).flatMap((structure) => structureChains(plan, structure)),
    ...Object.values(plan.utilities).flatMap((utility) =>
      edgeChains(
        outlinesOf(plan, 'utilities', utility.id),
        utility.name === '' ? 'the buried line' : utility.name,
      ),
    ),
    ...Object.values(plan.lockedPipes).flatMap((pipe) =>
      edgeChains(outlinesOf(plan, 'lockedPipes', pipe.id), PIPE_OWNERS[pipe.role]),
    ),
    ...places.map(({ at, owner }) => ({ path: [at, at], isSmooth: false, owner, corners: [] })),
    ...[...Object.values(plan.trees), ...Object.values(plan.sources), ...Object.values(plan.valves)].map(
      (item) => ({
        path: [item.at, item.at],
        isSmooth: false,
        owner: item.name,
        corners: [],
      }),
    ),
  ];
  const found: CatchIndex = {
    index: SegmentIndex.ofPaths(chains.map((chain) => chain.path)),
    isSmooth: (chain) => chains[chain]?.isSmooth ?? false,
    ownerOf: (chain) => chains[chain]?.owner ?? '',
    follows: (chain, corner) => chains[chain]?.corners.includes(corner) ?? false,
  };
  indexes.set(plan, { places, index: found });
  return found;
}
