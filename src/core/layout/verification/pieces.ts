import type { PlanPoint, Polyline } from '../../geometry';
import type { RunRole } from '../types';

/** A run as the verifier reads it: nothing the router believes about it, only where the tubing lies. */
export interface LaidRun {
  readonly id: string;
  readonly role: RunRole;
  readonly closed: boolean;
  readonly path: Polyline;
}

/** Short straight lengths of tubing in flat arrays, each knowing its run and how far along it begins and ends. */
export interface Pieces {
  readonly count: number;
  readonly ax: Float64Array;
  readonly ay: Float64Array;
  readonly bx: Float64Array;
  readonly by: Float64Array;
  /** Index of the run in the list the pieces were cut from. */
  readonly run: Int32Array;
  readonly startM: Float64Array;
  readonly endM: Float64Array;
  readonly runLengthM: readonly number[];
}

/** Distance between two points. A plain root: several times quicker than `Math.hypot`, whose guard against overflow plan metres never need. */
export const lengthOf = (a: PlanPoint, b: PlanPoint): number =>
  Math.sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));

/** Cuts runs into lengths of at most `longestM`, so that distance along the tubing is known everywhere. */
export function cutIntoPieces(runs: readonly LaidRun[], longestM: number): Pieces {
  const count = runs.reduce((sum, run) => sum + piecesIn(run, longestM), 0);
  const column = (): Float64Array => new Float64Array(count);
  const [ax, ay, bx, by, startM, endM] = [column(), column(), column(), column(), column(), column()];
  const runOf = new Int32Array(count);
  let piece = 0;
  const runLengthM = runs.map((run, runIndex) => {
    let along = 0;
    for (let i = 1; i < run.path.length; i += 1) {
      const a = run.path[i - 1]!;
      const b = run.path[i]!;
      const length = lengthOf(a, b);
      const parts = partsOf(length, longestM);
      for (let k = 0; k < parts; k += 1, piece += 1) {
        const from = k / parts;
        const to = (k + 1) / parts;
        ax[piece] = a.x + (b.x - a.x) * from;
        ay[piece] = a.y + (b.y - a.y) * from;
        bx[piece] = a.x + (b.x - a.x) * to;
        by[piece] = a.y + (b.y - a.y) * to;
        runOf[piece] = runIndex;
        startM[piece] = along + length * from;
        endM[piece] = along + length * to;
      }
      along += length;
    }
    return along;
  });
  return { count, ax, ay, bx, by, run: runOf, startM, endM, runLengthM };
}

const partsOf = (lengthM: number, longestM: number): number => Math.max(1, Math.ceil(lengthM / longestM));

function piecesIn({ path }: LaidRun, longestM: number): number {
  let count = 0;
  for (let i = 1; i < path.length; i += 1) count += partsOf(lengthOf(path[i - 1]!, path[i]!), longestM);
  return count;
}

/** Square cells over a set of boxes; answers which boxes may touch a window. */
export class CellIndex {
  private readonly cells = new Map<number, number[]>();
  constructor(private readonly cellM: number) {}

  private key(column: number, row: number): number {
    return column * 4_194_304 + row;
  }

  add(item: number, minX: number, minY: number, maxX: number, maxY: number): void {
    for (let c = Math.floor(minX / this.cellM); c <= Math.floor(maxX / this.cellM); c += 1) {
      for (let r = Math.floor(minY / this.cellM); r <= Math.floor(maxY / this.cellM); r += 1) {
        const key = this.key(c, r);
        const cell = this.cells.get(key);
        if (cell) cell.push(item);
        else this.cells.set(key, [item]);
      }
    }
  }

  /** Calls `visit` for every item whose cells touch the window; an item may come more than once. */
  visit(minX: number, minY: number, maxX: number, maxY: number, visit: (item: number) => void): void {
    for (let c = Math.floor(minX / this.cellM); c <= Math.floor(maxX / this.cellM); c += 1) {
      for (let r = Math.floor(minY / this.cellM); r <= Math.floor(maxY / this.cellM); r += 1) {
        const cell = this.cells.get(this.key(c, r));
        if (cell) for (const item of cell) visit(item);
      }
    }
  }
}

/** Distance from a point to a straight length. */
export function pointToLengthM(
  px: number,
  py: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): number {
  const vx = bx - ax;
  const vy = by - ay;
  const square = vx * vx + vy * vy;
  const share = square > 0 ? Math.min(1, Math.max(0, ((px - ax) * vx + (py - ay) * vy) / square)) : 0;
  const dx = px - ax - share * vx;
  const dy = py - ay - share * vy;
  return Math.sqrt(dx * dx + dy * dy);
}
