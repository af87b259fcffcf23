import type { Path64, Paths64 } from 'clipper2-ts';

/** A box in grid steps. */
interface GridBox {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/**
 * Paths with whatever lies beyond the box of others left out: the same ground within that box, from far fewer points. The
 * clipping engine goes through every point it is given, and most of what is asked is a strip or a slot of a whole bed.
 */
export function pathsNear(paths: Paths64, others: Paths64): Paths64 {
  const box = boxOfPaths(others);
  return paths.flatMap((path) => {
    const near = pathNear(path, box);
    return near.length > 2 ? [near] : [];
  });
}

function boxOfPaths(paths: Paths64): GridBox {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (const path of paths)
    for (const { x, y } of path) {
      if (x < minX) minX = x;
      if (x > maxX) maxX = x;
      if (y < minY) minY = y;
      if (y > maxY) maxY = y;
    }
  // Edges that only touch the box count: a step more is taken in.
  return { minX: minX - 1, minY: minY - 1, maxX: maxX + 1, maxY: maxY + 1 };
}

/** The sides of a box that a point lies beyond, a bit each. */
const sidesBeyond = (x: number, y: number, box: GridBox): number =>
  (x < box.minX ? 1 : 0) | (x > box.maxX ? 2 : 0) | (y < box.minY ? 4 : 0) | (y > box.maxY ? 8 : 0);

/**
 * A path without the points that lie, with the one kept before them and the one after, beyond the same side: the edge that
 * takes their place stays beyond it too, so that nothing within the box winds otherwise.
 */
function pathNear(path: Path64, box: GridBox): Path64 {
  const beyond = path.map(({ x, y }) => sidesBeyond(x, y, box));
  if (beyond.reduce((shared, sides) => shared & sides, 15) !== 0) return [];
  const kept: Path64 = [];
  let before = beyond.at(-1)!;
  for (let index = 0; index < path.length; index++) {
    const here = beyond[index]!;
    const after = beyond[index + 1 < path.length ? index + 1 : 0]!;
    if (kept.length > 0 && (before & here & after) !== 0) continue;
    kept.push(path[index]!);
    before = here;
  }
  return kept;
}
