import type { PaperRect } from '../blocks';
import { boxCorners, type Ink } from './ink';

const CELL_MM = 0.6;

/**
 * Which paper of a room is still blank, as counts summed from the top left (a summed-area table), so that whether any
 * upright box is blank costs four look-ups. A cell is taken as soon as ink may touch it.
 */
export class FreePaper {
  private readonly columns: number;
  private readonly rows: number;
  private readonly sums: Int32Array;

  constructor(
    readonly room: PaperRect,
    ink: Ink,
  ) {
    this.columns = Math.max(1, Math.ceil(room.widthMm / CELL_MM));
    this.rows = Math.max(1, Math.ceil(room.heightMm / CELL_MM));
    const taken = new Uint8Array(this.columns * this.rows);
    const take = (x: number, y: number): void => {
      const i = Math.floor((x - room.x) / CELL_MM);
      const j = Math.floor((y - room.y) / CELL_MM);
      if (i >= 0 && j >= 0 && i < this.columns && j < this.rows) taken[j * this.columns + i] = 1;
    };
    for (const segment of ink.segments) {
      const length = Math.hypot(segment.b.x - segment.a.x, segment.b.y - segment.a.y);
      const steps = Math.max(1, Math.ceil((length / CELL_MM) * 2));
      const reach = segment.halfWidthMm + 0.1;
      for (let k = 0; k <= steps; k++) {
        const x = segment.a.x + ((segment.b.x - segment.a.x) * k) / steps;
        const y = segment.a.y + ((segment.b.y - segment.a.y) * k) / steps;
        for (let dx = -reach; dx <= reach + 1e-9; dx += reach)
          for (let dy = -reach; dy <= reach + 1e-9; dy += reach) take(x + dx, y + dy);
      }
    }
    for (const { box } of ink.texts) {
      const corners = boxCorners(box);
      const [x0, x1] = [Math.min(...corners.map((p) => p.x)), Math.max(...corners.map((p) => p.x))];
      const [y0, y1] = [Math.min(...corners.map((p) => p.y)), Math.max(...corners.map((p) => p.y))];
      for (let x = x0; x <= x1 + CELL_MM / 2; x += CELL_MM / 2)
        for (let y = y0; y <= y1 + CELL_MM / 2; y += CELL_MM / 2) take(x, y);
    }
    const width = this.columns + 1;
    this.sums = new Int32Array(width * (this.rows + 1));
    for (let j = 0; j < this.rows; j++) {
      let row = 0;
      for (let i = 0; i < this.columns; i++) {
        row += taken[j * this.columns + i]!;
        this.sums[(j + 1) * width + i + 1] = this.sums[j * width + i + 1]! + row;
      }
    }
  }

  /** True where an upright box, given by its top left corner, lies in the room on blank paper. */
  isFree(x: number, y: number, widthMm: number, heightMm: number): boolean {
    const { room } = this;
    if (x < room.x || y < room.y) return false;
    if (x + widthMm > room.x + room.widthMm || y + heightMm > room.y + room.heightMm) return false;
    const i0 = Math.floor((x - room.x) / CELL_MM);
    const j0 = Math.floor((y - room.y) / CELL_MM);
    const i1 = Math.min(this.columns, Math.ceil((x + widthMm - room.x) / CELL_MM));
    const j1 = Math.min(this.rows, Math.ceil((y + heightMm - room.y) / CELL_MM));
    const width = this.columns + 1;
    const at = (j: number, i: number): number => this.sums[j * width + i]!;
    return at(j1, i1) - at(j0, i1) - at(j1, i0) + at(j0, i0) === 0;
  }
}
