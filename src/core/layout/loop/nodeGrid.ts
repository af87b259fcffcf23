/** Nodes found by place: square cells, each with a chain of the nodes in it. Cheap enough to be built anew every few rounds. */
export class NodeGrid {
  private readonly minX: number;
  private readonly minY: number;
  private readonly columns: number;
  private readonly rows: number;
  private readonly first: Int32Array;
  private readonly next: Int32Array;

  /** @param cellM side of a cell: about the distance that will be asked for */
  constructor(
    private readonly x: Float64Array,
    private readonly y: Float64Array,
    watched: readonly number[],
    private readonly cellM: number,
  ) {
    let minX = Number.POSITIVE_INFINITY;
    let minY = Number.POSITIVE_INFINITY;
    let maxX = Number.NEGATIVE_INFINITY;
    let maxY = Number.NEGATIVE_INFINITY;
    for (const node of watched) {
      minX = Math.min(minX, x[node]!);
      maxX = Math.max(maxX, x[node]!);
      minY = Math.min(minY, y[node]!);
      maxY = Math.max(maxY, y[node]!);
    }
    this.minX = minX;
    this.minY = minY;
    this.columns = watched.length > 0 ? Math.floor((maxX - minX) / cellM) + 1 : 0;
    this.rows = watched.length > 0 ? Math.floor((maxY - minY) / cellM) + 1 : 0;
    this.first = new Int32Array(this.columns * this.rows).fill(-1);
    this.next = new Int32Array(x.length).fill(-1);
    for (const node of watched) {
      const cell = this.cellAt(x[node]!, y[node]!);
      this.next[node] = this.first[cell]!;
      this.first[cell] = node;
    }
  }

  private cellAt(x: number, y: number): number {
    return Math.floor((y - this.minY) / this.cellM) * this.columns + Math.floor((x - this.minX) / this.cellM);
  }

  /**
   * Calls `visit` for every watched node within `radiusM` of a point.
   *
   * @param movedM  how far nodes may have moved since the grid was built
   */
  visit(x: number, y: number, radiusM: number, visit: (node: number) => void, movedM = 0): void {
    const reachM = radiusM + movedM;
    const fromColumn = Math.max(0, Math.floor((x - reachM - this.minX) / this.cellM));
    const toColumn = Math.min(this.columns - 1, Math.floor((x + reachM - this.minX) / this.cellM));
    const fromRow = Math.max(0, Math.floor((y - reachM - this.minY) / this.cellM));
    const toRow = Math.min(this.rows - 1, Math.floor((y + reachM - this.minY) / this.cellM));
    for (let row = fromRow; row <= toRow; row++)
      for (let column = fromColumn; column <= toColumn; column++)
        for (let node = this.first[row * this.columns + column]!; node >= 0; node = this.next[node]!)
          if (Math.abs(this.x[node]! - x) <= radiusM && Math.abs(this.y[node]! - y) <= radiusM) visit(node);
  }
}
