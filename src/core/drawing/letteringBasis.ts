import type { Design } from '../design';
import {
  type PaperPoint,
  type PaperView,
  type PlanPoint,
  planToPaper,
  pointsAlong,
  polylineLengthM,
} from '../geometry';
import type { Printer } from '../units';
import { isInRect, type PaperRect } from './blocks';
import { hasManyRuns, type RunFigures } from './figures';
import type { Ties } from './ties';

/** What lettering of a plan view is made from. */
export interface Lettering {
  readonly design: Design;
  readonly view: PaperView;
  readonly print: Printer;
  readonly runs: readonly RunFigures[];
  readonly ties: Ties;
  /** The part of the paper that shows the plan. */
  readonly room: PaperRect;
}

/** What leaving a label out costs: cautions and run marks before conveniences. */
export const WEIGHTS = {
  mark: 400,
  note: 300,
  caution: 350,
  pipe: 120,
  device: 110,
  offset: 90,
  name: 60,
  corner: 40,
};

/** Runs closer than this on paper are closer than their usual marks are high. */
const LEAST_RUN_GAP_MM = 4.4;

/** Beds, by id, that hold many runs. */
export const busyBeds = (l: Lettering): ReadonlySet<string> =>
  new Set(l.design.beds.filter(hasManyRuns).map((bed) => bed.id));

/** Of those beds the ones whose runs, each two rows wide, lie closer on paper than a run's mark is high: their marks are small. */
export const crowdedBeds = (l: Lettering): ReadonlySet<string> =>
  new Set(
    l.design.beds
      .filter((bed) => (2 * bed.layout.rowSpacingM * 1000) / l.view.scaleDenominator < LEAST_RUN_GAP_MM)
      .filter(hasManyRuns)
      .map((bed) => bed.id),
  );

/** True where a place of the plan lies in the part of it that this paper shows. */
export const isShown = (l: Lettering, at: PlanPoint): boolean => isInRect(l.room, planToPaper(at, l.view));

/** Plan points on paper. */
export const paper = (points: readonly { readonly x: number; readonly y: number }[], view: PaperView) =>
  points.map((p) => planToPaper(p, view));

/** Points spread along an outline, close enough that the nearest is near. */
export function spread(points: readonly PaperPoint[], closed: boolean): readonly PaperPoint[] {
  const chain = closed && points[0] ? [...points, points[0]] : [...points];
  if (chain.length < 2) return chain;
  const plain = chain.map((p) => ({ x: p.x, y: p.y }));
  const total = polylineLengthM(plain);
  const count = Math.min(60, Math.max(2, Math.round(total / 4)));
  const along = Array.from({ length: count }, (_, i) => (i * total) / (count - (closed ? 0 : 1)));
  return pointsAlong(plain, along).map(({ at }) => ({ x: at.x, y: at.y }));
}
