import type { Design } from '../design';
import { type PaperPoint, type PaperView, planToPaper, pointsAlong, polylineLengthM } from '../geometry';
import type { Printer } from '../units';
import type { RunFigures } from './figures';
import type { Ties } from './ties';

/** What lettering of a plan view is made from. */
export interface Lettering {
  readonly design: Design;
  readonly view: PaperView;
  readonly print: Printer;
  readonly runs: readonly RunFigures[];
  readonly ties: Ties;
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
