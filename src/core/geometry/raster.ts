import { boxOfAll } from './box';
import type { PlanPoint, Polyline, Ring } from './types';

/** Ground as points of a square grid, centred in the box of its rings; point i stands at column i % columns, row i / columns. */
export interface GroundSamples {
  readonly x0: number;
  readonly y0: number;
  readonly stepM: number;
  readonly columns: number;
  readonly rows: number;
  /** 1 where the sample lies on the ground. */
  readonly isGround: Uint8Array;
  readonly count: number;
}

const NO_SAMPLES: GroundSamples = {
  x0: 0,
  y0: 0,
  stepM: 1,
  columns: 0,
  rows: 0,
  isGround: new Uint8Array(0),
  count: 0,
};

/**
 * The ground of some rings (counted even-odd) as grid points about `stepM` apart.
 *
 * @param mostSamples the step is widened where the box of the rings would hold more points than this
 */
export function sampleGround(rings: readonly Ring[], stepM: number, mostSamples: number): GroundSamples {
  const box = boxOfAll(rings);
  if (!box) return NO_SAMPLES;
  const widthM = box.maxX - box.minX;
  const heightM = box.maxY - box.minY;
  const step = Math.max(stepM, Math.sqrt((widthM * heightM) / mostSamples));
  const columns = Math.max(1, Math.ceil(widthM / step));
  const rows = Math.max(1, Math.ceil(heightM / step));
  const x0 = box.minX + (widthM - (columns - 1) * step) / 2;
  const y0 = box.minY + (heightM - (rows - 1) * step) / 2;
  const isGround = new Uint8Array(columns * rows);
  let count = 0;
  rowCrossings(rings, y0, step, rows).forEach((xs, row) => {
    xs.sort((one, other) => one - other);
    for (let k = 0; k + 1 < xs.length; k += 2) {
      const first = Math.max(0, Math.ceil((xs[k]! - x0) / step));
      const last = Math.min(columns - 1, Math.floor((xs[k + 1]! - x0) / step));
      for (let column = first; column <= last; column += 1) {
        isGround[row * columns + column] = 1;
        count += 1;
      }
    }
  });
  return { x0, y0, stepM: step, columns, rows, isGround, count };
}

function rowCrossings(rings: readonly Ring[], y0: number, stepM: number, rows: number): number[][] {
  const crossings: number[][] = Array.from({ length: rows }, () => []);
  for (const ring of rings)
    ring.forEach((a, index) => {
      const b = ring[(index + 1) % ring.length]!;
      const from = Math.max(0, Math.ceil((Math.min(a.y, b.y) - y0) / stepM));
      const to = Math.min(rows - 1, Math.floor((Math.max(a.y, b.y) - y0) / stepM));
      for (let row = from; row <= to; row += 1) {
        const y = y0 + row * stepM;
        if (a.y > y !== b.y > y) crossings[row]!.push(a.x + ((b.x - a.x) * (y - a.y)) / (b.y - a.y));
      }
    });
  return crossings;
}

/** Where a sample stands, metres. */
export function samplePoint(samples: GroundSamples, index: number): PlanPoint {
  return {
    x: samples.x0 + (index % samples.columns) * samples.stepM,
    y: samples.y0 + Math.floor(index / samples.columns) * samples.stepM,
  };
}

/**
 * Squared distance of every ground sample to the nearest of some paths, exact up to `reachM`, infinite beyond and off the
 * ground. Time grows with the ground within reach of the paths, not with samples times segments.
 */
export function squaredDistances(
  samples: GroundSamples,
  paths: readonly Polyline[],
  reachM: number,
): Float64Array {
  const square = new Float64Array(samples.columns * samples.rows).fill(Number.POSITIVE_INFINITY);
  for (const path of paths)
    for (let index = 1; index < path.length; index += 1) {
      const a = path[index - 1]!;
      const b = path[index]!;
      const slantM = Math.min(Math.abs(b.x - a.x), Math.abs(b.y - a.y));
      const pieces = Math.max(1, Math.ceil(slantM / reachM));
      const dx = (b.x - a.x) / pieces;
      const dy = (b.y - a.y) / pieces;
      for (let k = 0; k < pieces; k += 1) stamp(samples, square, a.x + k * dx, a.y + k * dy, dx, dy, reachM);
    }
  return square;
}

/** Lowers the squared distances round one segment, given by its start and its extent. */
function stamp(
  samples: GroundSamples,
  square: Float64Array,
  ax: number,
  ay: number,
  vx: number,
  vy: number,
  reachM: number,
): void {
  const { x0, y0, stepM, columns, rows, isGround } = samples;
  const length2 = vx * vx + vy * vy;
  const perLength2 = length2 > 0 ? 1 / length2 : 0;
  const reach2 = reachM * reachM;
  const firstColumn = Math.max(0, Math.ceil((ax + Math.min(0, vx) - reachM - x0) / stepM));
  const lastColumn = Math.min(columns - 1, Math.floor((ax + Math.max(0, vx) + reachM - x0) / stepM));
  const firstRow = Math.max(0, Math.ceil((ay + Math.min(0, vy) - reachM - y0) / stepM));
  const lastRow = Math.min(rows - 1, Math.floor((ay + Math.max(0, vy) + reachM - y0) / stepM));
  for (let row = firstRow; row <= lastRow; row += 1) {
    const wy = y0 + row * stepM - ay;
    let cell = row * columns + firstColumn;
    for (let column = firstColumn; column <= lastColumn; column += 1, cell += 1) {
      if (isGround[cell] === 0) continue;
      const wx = x0 + column * stepM - ax;
      let ratio = (wx * vx + wy * vy) * perLength2;
      if (ratio < 0) ratio = 0;
      else if (ratio > 1) ratio = 1;
      const dx = wx - ratio * vx;
      const dy = wy - ratio * vy;
      const here = dx * dx + dy * dy;
      if (here <= reach2 && here < square[cell]!) square[cell] = here;
    }
  }
}
