import type { Box, PlanPoint } from './types';

/** The smallest box round some points; null where there are none. */
export function boxOf(points: Iterable<PlanPoint>): Box | null {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (const point of points) {
    if (point.x < minX) minX = point.x;
    if (point.x > maxX) maxX = point.x;
    if (point.y < minY) minY = point.y;
    if (point.y > maxY) maxY = point.y;
  }
  return minX > maxX ? null : { minX, minY, maxX, maxY };
}

/** The box round several chains or rings; null where they hold no point. */
export function boxOfAll(chains: readonly (readonly PlanPoint[])[]): Box | null {
  return uniteBoxes(chains.map(boxOf));
}

/** The box round several boxes, those that are null left out. */
export function uniteBoxes(boxes: readonly (Box | null)[]): Box | null {
  let united: Box | null = null;
  for (const box of boxes) {
    if (!box) continue;
    united = united
      ? {
          minX: Math.min(united.minX, box.minX),
          minY: Math.min(united.minY, box.minY),
          maxX: Math.max(united.maxX, box.maxX),
          maxY: Math.max(united.maxY, box.maxY),
        }
      : box;
  }
  return united;
}

/** A box grown by `marginM` on every side. */
export function growBox(box: Box, marginM: number): Box {
  return {
    minX: box.minX - marginM,
    minY: box.minY - marginM,
    maxX: box.maxX + marginM,
    maxY: box.maxY + marginM,
  };
}

/** Do two boxes share at least a point? */
export function boxesTouch(a: Box, b: Box): boolean {
  return a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;
}

/** Is the point in the box, its edges included? */
export function boxHolds(box: Box, point: PlanPoint): boolean {
  return point.x >= box.minX && point.x <= box.maxX && point.y >= box.minY && point.y <= box.maxY;
}

/** A box as an anticlockwise ring. */
export function boxRing(box: Box): PlanPoint[] {
  return [
    { x: box.minX, y: box.minY },
    { x: box.maxX, y: box.minY },
    { x: box.maxX, y: box.maxY },
    { x: box.minX, y: box.maxY },
  ];
}
