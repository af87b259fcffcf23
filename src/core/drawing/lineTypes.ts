import {
  type PaperPoint,
  type PaperView,
  type PlanPoint,
  planToPaper,
  pointsAlong,
  polylineLengthM,
  type Ring,
} from '../geometry';
import { type Mark, pathItem, polylineSteps, stroke, WEIGHT } from './pen';
import type { DrawingItem, Ink, PathStep } from './types';

/** Plan points on paper, simplified no further than the plan itself. */
export const onPaper = (points: readonly PlanPoint[], view: PaperView): readonly PaperPoint[] =>
  points.map((p) => planToPaper(p, view));

/** Rings as one path, each closed. */
export const ringSteps = (rings: readonly (readonly PaperPoint[])[]): readonly PathStep[] =>
  rings.flatMap((ring) => polylineSteps(ring, true));

/** One hollow pipe to draw. */
export interface HollowLine {
  readonly mark: Mark;
  readonly points: readonly PaperPoint[];
  /** A main: always under pressure, so it has a core. */
  readonly core: boolean;
}

const HOLLOW_MM = { header: 1.2, main: 1.55 } as const;
const WALL_MM = 0.25;

/** Headers, hollow, for they are not always full, and mains with their core. Walls first, then bores: pipes that meet run into each other. */
export function hollowItems(lines: readonly HollowLine[], ink: Ink = 'water'): readonly DrawingItem[] {
  const outer = (line: HollowLine): number => (line.core ? HOLLOW_MM.main : HOLLOW_MM.header);
  const draw = (line: HollowLine, colour: Ink, widthMm: number): DrawingItem =>
    pathItem(line.mark, polylineSteps(line.points), { stroke: stroke(colour, widthMm, { join: 'miter' }) });
  return [
    ...lines.map((line) => draw(line, ink, outer(line))),
    ...lines.map((line) => draw(line, 'paper', outer(line) - 2 * WALL_MM)),
    ...lines.filter((line) => line.core).map((line) => draw(line, ink, 0.4)),
  ];
}

/** A chain moved sideways by `asideMm` (positive to the right of its direction on paper), corners mitred. */
export function asidePoints(points: readonly PaperPoint[], asideMm: number): readonly PaperPoint[] {
  return points.map((p, i) => {
    const before = points[Math.max(0, i - 1)]!;
    const after = points[Math.min(points.length - 1, i + 1)]!;
    const normal = (a: PaperPoint, b: PaperPoint) => {
      const length = Math.hypot(b.x - a.x, b.y - a.y) || 1;
      return { x: -(b.y - a.y) / length, y: (b.x - a.x) / length };
    };
    const first = i > 0 ? normal(before, p) : normal(p, after);
    const second = i < points.length - 1 ? normal(p, after) : first;
    const sum = { x: first.x + second.x, y: first.y + second.y };
    const stretch = Math.max(0.4, (sum.x * sum.x + sum.y * sum.y) / 2);
    return { x: p.x + (sum.x * asideMm) / stretch, y: p.y + (sum.y * asideMm) / stretch };
  });
}

/** A sleeve round its pipe: broken lines outside, a collar at each end. */
export function sleeveItems(mark: Mark, points: readonly PaperPoint[]): readonly DrawingItem[] {
  const [left, right] = [asidePoints(points, -1.25), asidePoints(points, 1.25)];
  const dashed = stroke('ink', WEIGHT.mid, { dashMm: [1.5, 0.8] });
  const collars: PathStep[] = [0, points.length - 1].flatMap((i) => {
    const [a, b] = [asidePoints(points, -1.8)[i]!, asidePoints(points, 1.8)[i]!];
    return [['M', a.x, a.y] as const, ['L', b.x, b.y] as const];
  });
  return [
    pathItem(mark, polylineSteps(left), { stroke: dashed }),
    pathItem(mark, polylineSteps(right), { stroke: dashed }),
    pathItem(mark, collars, { stroke: stroke('ink', 0.45) }),
  ];
}

/** Short strokes standing on one side of a ring or path every `everyM`, plan metres; positive length stands on the left. */
export function ticksAlong(
  path: readonly PlanPoint[],
  everyM: number,
  lengthM: number,
  view: PaperView,
): readonly PathStep[] {
  const totalM = polylineLengthM(path);
  const count = Math.min(4000, Math.floor(totalM / everyM));
  const at = Array.from({ length: count }, (_, i) => (i + 0.5) * (totalM / Math.max(1, count)));
  return at.length === 0 ? [] : tickSteps(path, at, () => lengthM, view);
}

/** One stroke at each distance along a path, standing on its left where the length is positive. */
export function tickSteps(
  path: readonly PlanPoint[],
  atM: readonly number[],
  lengthAt: (alongM: number) => number,
  view: PaperView,
): readonly PathStep[] {
  return pointsAlong(path, atM).flatMap((on, i): PathStep[] => {
    const lengthM = lengthAt(atM[i]!);
    const foot = planToPaper(on.at, view);
    const head = planToPaper(
      { x: on.at.x - Math.sin(on.headingRad) * lengthM, y: on.at.y + Math.cos(on.headingRad) * lengthM },
      view,
    );
    return [
      ['M', foot.x, foot.y],
      ['L', head.x, head.y],
    ];
  });
}

/** What lies inside a ring, seen only inside it: used for lines drawn along the inner side of an edge. */
export function insideOf(
  mark: Mark,
  rings: readonly Ring[],
  view: PaperView,
  items: readonly DrawingItem[],
): DrawingItem {
  return { kind: 'clip', ...mark, steps: ringSteps(rings.map((r) => onPaper(r, view))), items };
}
