import { circlePoints, type PaperPoint, type PaperView } from '../geometry';
import type { Plan } from '../plan';
import type { PaperRect } from './blocks';
import { structureRings } from './ground';
import { onPaper } from './lineTypes';
import { pathItem, stroke, WEIGHT } from './pen';
import type { DrawingItem, PathStep } from './types';

/** Paper kept clear between the frame and what is cut off, so that a break line has room. */
export const BREAK_MARGIN_MM = 3;

/** The sides of a window at which another sheet goes on: they carry a match line, not a break. */
export type MatchedSides = ReadonlySet<'top' | 'bottom' | 'left' | 'right'>;

const PEAK_MM = 1.9;
const BEYOND_MM = 1.4;
const LEAST_MM = 2;
const BETWEEN_PEAKS_MM = 34;

type Rings = readonly (readonly PaperPoint[])[];

/** Where a line across the paper (y = `at`, or x = `at`) lies inside rings: from and to along it, within limits. */
function insideAlong(
  rings: Rings,
  axis: 'x' | 'y',
  at: number,
  limits: readonly [number, number],
): readonly (readonly [number, number])[] {
  const [across, along] = axis === 'y' ? (['y', 'x'] as const) : (['x', 'y'] as const);
  const hits = rings
    .flatMap((ring) =>
      ring.flatMap((a, i) => {
        const b = ring[(i + 1) % ring.length]!;
        if (a[across] > at === b[across] > at) return [];
        return a[along] + ((at - a[across]) / (b[across] - a[across])) * (b[along] - a[along]);
      }),
    )
    .sort((a, b) => a - b);
  const spans: [number, number][] = [];
  for (let i = 0; i + 1 < hits.length; i += 2) {
    const from = Math.max(hits[i]!, limits[0]);
    const to = Math.min(hits[i + 1]!, limits[1]);
    if (to - from > LEAST_MM) spans.push([from, to]);
  }
  return spans;
}

/** One break line: straight, with a peak up and down in every stretch of it. */
function breakSteps(
  from: number,
  to: number,
  place: (along: number, out: number) => PaperPoint,
): readonly PathStep[] {
  const peaks = Math.max(1, Math.round((to - from) / BETWEEN_PEAKS_MM));
  const gap = (to - from) / peaks;
  const half = Math.min(1, gap / 6);
  const corners: (readonly [number, number])[] = [[from - BEYOND_MM, 0]];
  for (let i = 0; i < peaks; i++) {
    const middle = from + (i + 0.5) * gap;
    corners.push(
      [middle - 1.5 * half, 0],
      [middle - 0.5 * half, PEAK_MM],
      [middle + 0.5 * half, -PEAK_MM],
      [middle + 1.5 * half, 0],
    );
  }
  corners.push([to + BEYOND_MM, 0]);
  return corners.map(([along, out], i): PathStep => {
    const p = place(along, out);
    return [i === 0 ? 'M' : 'L', p.x, p.y];
  });
}

/** Everything on the ground with an inside, as rings on paper. */
function cutShapes(plan: Plan, view: PaperView): readonly { readonly id: string; readonly rings: Rings }[] {
  return [
    ...Object.values(plan.structures)
      .filter((s) => s.kind === 'building' || s.kind === 'paving')
      .map((s) => ({ id: s.id, rings: structureRings(s).map((ring) => onPaper(ring, view)) })),
    ...Object.values(plan.trees).map((tree) => ({
      id: tree.id,
      rings: [onPaper(circlePoints(tree.at, tree.canopyRadiusM), view)],
    })),
  ].sort((a, b) => (a.id < b.id ? -1 : 1));
}

/**
 * Break lines along the sides of a window, over everything that goes on beyond it: what is cut off is not taken for
 * its end. Sides with a match line carry none.
 */
export function breakLineItems(
  plan: Plan,
  view: PaperView,
  window: PaperRect,
  matched: MatchedSides = new Set(),
): readonly DrawingItem[] {
  const { x, y, widthMm, heightMm } = window;
  const [right, bottom] = [x + widthMm, y + heightMm];
  const sides = [
    { side: 'top', axis: 'y', at: y, out: -1 },
    { side: 'bottom', axis: 'y', at: bottom, out: 1 },
    { side: 'left', axis: 'x', at: x, out: -1 },
    { side: 'right', axis: 'x', at: right, out: 1 },
  ] as const;
  return cutShapes(plan, view).flatMap(({ id, rings }) =>
    sides
      .filter(({ side }) => !matched.has(side))
      .flatMap(({ axis, at, out }) =>
        insideAlong(rings, axis, at, axis === 'y' ? [x, right] : [y, bottom]).map(([from, to]) =>
          pathItem(
            { layer: 'ground', of: id },
            breakSteps(from, to, (along, peak) =>
              axis === 'y' ? { x: along, y: at + out * peak } : { x: at + out * peak, y: along },
            ),
            { stroke: stroke('ink', WEIGHT.mid, { join: 'miter' }) },
          ),
        ),
      ),
  );
}
