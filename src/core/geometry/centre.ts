import { boxOf } from './box';
import { signedDistanceToPolygonM } from './distance';
import { signedRingAreaM2 } from './ring';
import type { PlanPoint, Polygon, Ring } from './types';

function ringMoment(ring: Ring): { x: number; y: number; areaM2: number } {
  let x = 0;
  let y = 0;
  for (let index = 0, before = ring.length - 1; index < ring.length; before = index++) {
    const a = ring[before]!;
    const b = ring[index]!;
    const cross = a.x * b.y - b.x * a.y;
    x += (a.x + b.x) * cross;
    y += (a.y + b.y) * cross;
  }
  return { x: x / 6, y: y / 6, areaM2: signedRingAreaM2(ring) };
}

/** Centre of gravity of a polygon's ground; it may lie off the ground (an L, a ring). The first point where it has no area. */
export function centroid(polygon: Polygon): PlanPoint {
  const moments = [polygon.outer, ...polygon.holes].map(ringMoment);
  const sum = { x: 0, y: 0, areaM2: 0 };
  moments.forEach((moment, index) => {
    const sign = Math.sign(moment.areaM2) * (index === 0 ? 1 : -1);
    sum.x += sign * moment.x;
    sum.y += sign * moment.y;
    sum.areaM2 += sign * moment.areaM2;
  });
  return Math.abs(sum.areaM2) > 1e-12
    ? { x: sum.x / sum.areaM2, y: sum.y / sum.areaM2 }
    : (polygon.outer[0] ?? { x: 0, y: 0 });
}

/** A point well inside a polygon, far from its edges, with that distance: where a label goes and how large it may be. */
export interface InnerPoint {
  readonly at: PlanPoint;
  readonly clearanceM: number;
}

interface Cell {
  readonly x: number;
  readonly y: number;
  readonly half: number;
  readonly clearanceM: number;
  readonly bestM: number;
}

/**
 * The point furthest from every edge, within `precisionM`: squares are halved where they may still hold a better one
 * (the method known as the pole of inaccessibility). Null where the polygon holds no ground.
 */
export function innerPoint(polygon: Polygon, precisionM = 0.05): InnerPoint | null {
  const box = boxOf(polygon.outer);
  if (!box) return null;
  const size = Math.min(box.maxX - box.minX, box.maxY - box.minY);
  if (size <= 0) return null;
  const measure = (x: number, y: number, half: number): Cell => {
    const clearanceM = signedDistanceToPolygonM({ x, y }, polygon);
    return { x, y, half, clearanceM, bestM: clearanceM + half * Math.SQRT2 };
  };
  const middle = centroid(polygon);
  let best = measure(middle.x, middle.y, 0);
  let cells: Cell[] = [];
  const half = size / 2;
  for (let x = box.minX + half; x - half < box.maxX; x += size)
    for (let y = box.minY + half; y - half < box.maxY; y += size) cells.push(measure(x, y, half));
  for (let depth = 0; depth < 16 && cells.length > 0; depth++) {
    for (const cell of cells) if (cell.clearanceM > best.clearanceM) best = cell;
    const promising = cells.filter((cell) => cell.bestM - best.clearanceM > precisionM);
    cells = promising.flatMap(({ x, y, half: wide }) => {
      const quarter = wide / 2;
      return [
        measure(x - quarter, y - quarter, quarter),
        measure(x + quarter, y - quarter, quarter),
        measure(x - quarter, y + quarter, quarter),
        measure(x + quarter, y + quarter, quarter),
      ];
    });
  }
  return best.clearanceM > 0 ? { at: { x: best.x, y: best.y }, clearanceM: best.clearanceM } : null;
}
