import type { BedRing, Obstacle } from '../types';
import { CellIndex, type Pieces, pointToLengthM } from './pieces';

/** How tubing keeps off edges: the worst of (distance to an edge less its offset), negative where it is too near. */
export interface Clearance {
  readonly worstM: number;
  readonly outside: number;
  readonly at: { readonly x: number; readonly y: number } | null;
}

interface Side {
  readonly ax: number;
  readonly ay: number;
  readonly bx: number;
  readonly by: number;
  readonly offsetM: number;
}

function sidesOf(rings: readonly BedRing[], obstacles: readonly Obstacle[]): Side[] {
  const sides: Side[] = [];
  const add = (points: readonly { x: number; y: number }[], offset: (i: number) => number): void => {
    points.forEach((a, i) => {
      const b = points[(i + 1) % points.length]!;
      if (a.x !== b.x || a.y !== b.y) sides.push({ ax: a.x, ay: a.y, bx: b.x, by: b.y, offsetM: offset(i) });
    });
  };
  for (const ring of rings) add(ring.points, (i) => ring.edges[i]?.offsetM ?? 0);
  for (const obstacle of obstacles) add(obstacle.outline, () => obstacle.clearanceM);
  return sides;
}

/** Rows of sides by height, so that a crossing count along a level line looks at few of them. */
class LevelCount {
  private readonly rows = new Map<number, { a: number[]; b: number[] }[]>();
  private minX = Number.POSITIVE_INFINITY;
  private maxX = Number.NEGATIVE_INFINITY;
  private minY = Number.POSITIVE_INFINITY;
  private maxY = Number.NEGATIVE_INFINITY;
  constructor(
    ring: readonly { x: number; y: number }[],
    private readonly rowM: number,
  ) {
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      this.minX = Math.min(this.minX, a.x);
      this.maxX = Math.max(this.maxX, a.x);
      this.minY = Math.min(this.minY, a.y);
      this.maxY = Math.max(this.maxY, a.y);
      const first = Math.floor(Math.min(a.y, b.y) / rowM);
      const last = Math.floor(Math.max(a.y, b.y) / rowM);
      for (let r = first; r <= last; r += 1) {
        const row = this.rows.get(r) ?? [];
        row.push({ a: [a.x, a.y], b: [b.x, b.y] });
        this.rows.set(r, row);
      }
    });
  }

  holds(x: number, y: number): boolean {
    if (x < this.minX || x > this.maxX || y < this.minY || y > this.maxY) return false;
    let inside = false;
    for (const { a, b } of this.rows.get(Math.floor(y / this.rowM)) ?? []) {
      const isAcross = a[1]! > y !== b[1]! > y;
      if (isAcross && x < ((b[0]! - a[0]!) * (y - a[1]!)) / (b[1]! - a[1]!) + a[0]!) inside = !inside;
    }
    return inside;
  }
}

/** Measures tubing every `stepM` along every piece against every edge of the bed and every obstacle. */
export function measureClearance(
  rings: readonly BedRing[],
  obstacles: readonly Obstacle[],
  pieces: Pieces,
  isMeasured: (runIndex: number) => boolean,
  stepM: number,
): Clearance {
  const sides = sidesOf(rings, obstacles);
  const reach = Math.max(0.3, ...sides.map((side) => side.offsetM)) + 0.05;
  const index = new CellIndex(reach * 2);
  sides.forEach((s, i) => {
    addAlong(index, i, s, reach);
  });
  const outer = rings[0] ? new LevelCount(rings[0].points, reach * 2) : null;
  const solids = [...rings.slice(1).map((ring) => ring.points), ...obstacles.map((o) => o.outline)].map(
    (points) => new LevelCount(points, reach * 2),
  );
  let worstM = Number.POSITIVE_INFINITY;
  let outside = 0;
  let at: Clearance['at'] = null;
  for (let i = 0; i < pieces.count; i += 1) {
    if (!isMeasured(pieces.run[i]!)) continue;
    const ax = pieces.ax[i]!;
    const ay = pieces.ay[i]!;
    const dx = pieces.bx[i]! - ax;
    const dy = pieces.by[i]! - ay;
    const count = Math.max(1, Math.ceil(Math.hypot(dx, dy) / stepM));
    for (let k = 0; k < count; k += 1) {
      const x = ax + (dx * k) / count;
      const y = ay + (dy * k) / count;
      const isInside = outer?.holds(x, y) === true && !solids.some((solid) => solid.holds(x, y));
      if (!isInside) outside += 1;
      index.visit(x, y, x, y, (s) => {
        const side = sides[s]!;
        const distance = pointToLengthM(x, y, side.ax, side.ay, side.bx, side.by);
        const spare = (isInside ? distance : -distance) - side.offsetM;
        if (spare >= worstM) return;
        worstM = spare;
        at = { x, y };
      });
    }
  }
  return { worstM, outside, at };
}

/** Puts a side, grown by `reach`, into the cells along it; a long slanting side must not fill its whole box. */
function addAlong(index: CellIndex, item: number, side: Side, reach: number): void {
  const length = Math.hypot(side.bx - side.ax, side.by - side.ay);
  const count = Math.max(1, Math.ceil(length / (reach * 4)));
  for (let k = 0; k < count; k += 1) {
    const x0 = side.ax + ((side.bx - side.ax) * k) / count;
    const y0 = side.ay + ((side.by - side.ay) * k) / count;
    const x1 = side.ax + ((side.bx - side.ax) * (k + 1)) / count;
    const y1 = side.ay + ((side.by - side.ay) * (k + 1)) / count;
    index.add(
      item,
      Math.min(x0, x1) - reach,
      Math.min(y0, y1) - reach,
      Math.max(x0, x1) + reach,
      Math.max(y0, y1) + reach,
    );
  }
}
