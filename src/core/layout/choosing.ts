import { isLooped, type Judged } from './judging';
import type { LayoutInput } from './types';

/** A last choice is kept unless another is fitter by this much: pictures that flip while dragging cannot be read. */
const KEEP_RATIO = { preview: 1.05, finished: 1.01 };
/** Other choices shown beside the one taken. */
const MOST_ALTERNATIVES = 3;

/** Rows this much wider than asked are another kind of choice: fewer of them, and drier between. */
const STRETCHED_RATIO = 0.03;

/** The layout taken, the ones shown beside it, and whether the designer's wish was met. */
export interface Choice {
  readonly chosen: Judged;
  readonly others: readonly Judged[];
  readonly wish: 'none' | 'met' | 'not-possible';
}

/** A loop that waters this much of its ground needs no single row in its place. */
const LOOP_SUFFICES_RATIO = 0.985;

/** One that waters as its goal asks comes before cheaper ones that do not, up to this many times their cost (ours, stated). */
const MOST_FOR_WATER_RATIO = 1.2;
/** One whose dry ground makes up no more than this share of its cost waters as asked. */
const HARDLY_DRY_RATIO = 0.01;

/**
 * Fittest first; ties by key. Loops come before laterals, and before a single row where they water the ground; what waters as its
 * goal asks comes before what only leaves a wider gap, and that before what waters less, unless it costs much more or takes more
 * loops.
 */
export function byFitness(candidates: readonly Judged[]): Judged[] {
  const loopSuffices = candidates.some(
    ({ alternative, sketches }) =>
      alternative.valid &&
      isLooped(alternative.layout) &&
      alternative.runs.some((run) => run.role === 'loop') &&
      alternative.runs.every((run) => run.role !== 'single-row') &&
      sketches.every((sketch) => sketch.isSparing !== true) &&
      alternative.coverage.coveredRatio >= LOOP_SUFFICES_RATIO,
  );
  const isLoopLike = ({ alternative }: Judged): boolean => alternative.valid && isLooped(alternative.layout);
  const leader = cheapest(candidates);
  const cheapestM = leader?.alternative.costM ?? Number.POSITIVE_INFINITY;
  const fewest = fewestLoops(candidates.filter(isLoopLike), MOST_FOR_WATER_RATIO * cheapestM, leader);
  const rank = (judged: Judged): number => {
    if (!isLoopLike(judged)) return 4;
    if (loopSuffices && judged.sketches[0]?.isSparing === true) return 3;
    const isNear =
      judged.alternative.costM <= MOST_FOR_WATER_RATIO * cheapestM && loopCount(judged) <= fewest;
    if (!isNear) return 2;
    return watersAsAsked(judged) ? 0 : judged.dryness === 'dry' ? 2 : 1;
  };
  return [...candidates].sort((one, other) => compare(one, other, rank));
}

/** The fewest loops that water enough of the bed at no more than a cost; as many as the cheapest has where none do. */
function fewestLoops(valid: readonly Judged[], mostM: number, leader: Judged | null): number {
  const counts = valid
    .filter((judged) => judged.dryness !== 'dry' && judged.alternative.costM <= mostM)
    .map(loopCount)
    .filter((count) => count > 0);
  const ofLeader = leader ? loopCount(leader) : 0;
  return counts.length > 0 ? Math.min(...counts) : ofLeader;
}

/** How many closed loops a layout has. */
export const loopCount = ({ alternative }: Judged): number =>
  alternative.runs.filter((run) => run.role === 'loop').length;

/** Does it water as the goal asks, or does dry ground make up so little of its cost that no other is to be preferred for its water? */
export const watersAsAsked = ({ dryness, dryCostM, alternative }: Judged): boolean =>
  dryness === 'none' || dryCostM <= HARDLY_DRY_RATIO * alternative.costM;

/** The cheapest of what passed the verifier, whatever it waters; null where nothing passed. */
export function cheapest(candidates: readonly Judged[]): Judged | null {
  const valid = candidates.filter(({ alternative }) => alternative.valid && isLooped(alternative.layout));
  return [...valid].sort((one, other) => compare(one, other, () => 0))[0] ?? null;
}

function compare(one: Judged, other: Judged, rank: (judged: Judged) => number): number {
  return (
    rank(one) - rank(other) ||
    one.alternative.costM - other.alternative.costM ||
    (one.alternative.key < other.alternative.key ? -1 : 1)
  );
}

/**
 * Takes the designer's alternative while it is valid, else the fittest of the wished layout, else what was taken last
 * while it stays nearly as fit, else the fittest. Null where nothing passed the verifier.
 */
export function choose(candidates: readonly Judged[], input: LayoutInput): Choice | null {
  const valid = byFitness(candidates.filter((judged) => judged.alternative.valid));
  const fittest = valid[0];
  if (!fittest) return null;
  const named = valid.find((judged) => judged.alternative.key === input.chosenAlternative);
  const wished = valid.find((judged) => judged.alternative.layout === input.layout);
  const last = valid.find((judged) => judged.alternative.key === input.previous?.key);
  const isLastGood = last && last.alternative.costM <= fittest.alternative.costM * KEEP_RATIO[input.quality];
  const chosen = named ?? wished ?? (isLastGood ? last : fittest);
  const hasWish = input.chosenAlternative !== null || input.layout !== null;
  const isMet = input.chosenAlternative !== null ? named !== undefined : wished !== undefined;
  return {
    chosen,
    others: distinct(valid.filter((judged) => judged !== chosen)).slice(0, MOST_ALTERNATIVES),
    wish: hasWish ? (isMet ? 'met' : 'not-possible') : 'none',
  };
}

/** The fittest of each kind of layout first, so that the choices shown differ; then what is left, fittest first. */
function distinct(sorted: readonly Judged[]): Judged[] {
  const kinds = new Set<string>();
  const first = sorted.filter(({ alternative }) => {
    const kind = `${alternative.layout}${alternative.stretchRatio > STRETCHED_RATIO ? ' stretched' : ''}`;
    const isNew = !kinds.has(kind);
    kinds.add(kind);
    return isNew;
  });
  return [...first, ...sorted.filter((judged) => !first.includes(judged))];
}
