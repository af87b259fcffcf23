import { squareFoot } from './construct';
import { segmentCrossing } from './distance';
import type { IndexedSegment, SegmentIndex } from './segmentIndex';
import type { PlanPoint } from './types';
import { distanceM, pointBetween } from './vector';

/** What a pointer may catch, most wanted first. */
export const CATCH_KINDS = ['end', 'middle', 'crossing', 'square', 'edge', 'grid'] as const;
export type CatchKind = (typeof CATCH_KINDS)[number];

/** A place near the pointer that drawn lines or the grid offer. */
export interface Catch {
  readonly kind: CatchKind;
  readonly at: PlanPoint;
  /** Chain of the index it was caught on; null for the grid. */
  readonly chain: number | null;
}

export interface CatchOptions {
  /** How far the pointer reaches. */
  readonly reachM: number;
  /** Where the line being drawn comes from: allows a catch square to an edge. */
  readonly from: PlanPoint | null;
  /** Grid spacing; null: no grid. */
  readonly gridM: number | null;
  readonly accepts?: (segment: IndexedSegment) => boolean;
  /** Chains that stand for a curve: only along them is a catch, their chords' ends and middles mean nothing. */
  readonly isSmooth?: (chain: number) => boolean;
}

/** More segments than this under the pointer are not searched for crossings: nobody aims at one in such a thicket. */
const MOST_CROSSING_SEGMENTS = 60;

function crossings(segments: readonly IndexedSegment[]): Catch[] {
  if (segments.length > MOST_CROSSING_SEGMENTS) return [];
  return segments.flatMap((one, index) =>
    segments.slice(index + 1).flatMap((other): Catch[] => {
      if (one.chain === other.chain && Math.abs(one.edge - other.edge) <= 1) return [];
      const at = segmentCrossing(one.a, one.b, other.a, other.b);
      return at ? [{ kind: 'crossing', at, chain: one.chain }] : [];
    }),
  );
}

function onSegment(segment: IndexedSegment, pointer: PlanPoint, options: CatchOptions): Catch[] {
  const { a, b, chain } = segment;
  const { from } = options;
  const isSmooth = options.isSmooth?.(chain) ?? false;
  const caught: Catch[] = isSmooth
    ? []
    : [
        { kind: 'end', at: a, chain },
        { kind: 'end', at: b, chain },
        { kind: 'middle', at: pointBetween(a, b, 0.5), chain },
      ];
  if (from && !isSmooth) caught.push({ kind: 'square', at: squareFoot(from, a, b), chain });
  const foot = squareFoot(pointer, a, b);
  const isWithin = Math.abs(distanceM(a, foot) + distanceM(foot, b) - distanceM(a, b)) < 1e-9;
  if (isWithin) caught.push({ kind: 'edge', at: foot, chain });
  return caught;
}

/**
 * The place the pointer catches, or null. A kind earlier in `CATCH_KINDS` wins over a nearer one of a later kind;
 * within a kind the nearest wins, then the earlier chain.
 */
export function findCatch(index: SegmentIndex, pointer: PlanPoint, options: CatchOptions): Catch | null {
  const near = index
    .near(pointer, options.reachM)
    .filter((segment) => options.accepts === undefined || options.accepts(segment));
  const offered = [...near.flatMap((segment) => onSegment(segment, pointer, options)), ...crossings(near)];
  for (const kind of CATCH_KINDS) {
    const best = nearestOf(
      offered.filter((one) => one.kind === kind),
      pointer,
      options.reachM,
    );
    if (best) return best;
  }
  const { gridM } = options;
  if (gridM === null) return null;
  const at = { x: Math.round(pointer.x / gridM) * gridM, y: Math.round(pointer.y / gridM) * gridM };
  return distanceM(pointer, at) <= options.reachM ? { kind: 'grid', at, chain: null } : null;
}

function nearestOf(offered: readonly Catch[], pointer: PlanPoint, reachM: number): Catch | null {
  let best: Catch | null = null;
  let bestM = reachM;
  for (const one of offered) {
    const away = distanceM(one.at, pointer);
    if (away < bestM || (best === null && away <= reachM)) [best, bestM] = [one, away];
  }
  return best;
}
