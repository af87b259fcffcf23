import type { Design } from '../design';
import { type Box, boxesTouch, boxOf, ringsOf } from '../geometry';
import { drawingWords as words } from '../words';
import type { PaperRect } from './blocks';
import type { MatchedSides } from './breakLines';
import { lineItem, SIZE, stroke, textItem } from './pen';
import type { DrawingItem } from './types';

/** One sheet's share of a plan too large for its paper. */
export interface Tile {
  readonly column: number;
  readonly row: number;
  readonly box: Box;
  /** Page label of the sheet that shows it. */
  readonly label: string;
}

/** Paper kept round a tile for its match lines and their lettering, mm. */
export const TILE_MARGIN_MM = 9;

const holdsSomething = (design: Design, box: Box): boolean =>
  [
    ...design.beds.flatMap((bed) => ringsOf(bed.layout.outline)),
    ...design.supply.main.map((p) => p.path),
    ...design.supply.zones.flatMap((z) => z.pipes.map((p) => p.path)),
  ].some((points) => {
    const own = boxOf(points);
    return own !== null && boxesTouch(own, box);
  });

/** Tiles in reading order, north-west first; those that would show neither bed nor pipe are left out. */
export function tilesOf(
  design: Design,
  box: Box,
  room: PaperRect,
  scaleDenominator: number,
): readonly Tile[] {
  const mPerMm = scaleDenominator / 1000;
  const wideM = (room.widthMm - 2 * TILE_MARGIN_MM) * mPerMm;
  const highM = (room.heightMm - 2 * TILE_MARGIN_MM) * mPerMm;
  const columns = Math.max(1, Math.ceil((box.maxX - box.minX) / wideM - 1e-9));
  const rows = Math.max(1, Math.ceil((box.maxY - box.minY) / highM - 1e-9));
  const left = (box.minX + box.maxX) / 2 - (columns * wideM) / 2;
  const top = (box.minY + box.maxY) / 2 + (rows * highM) / 2;
  const tiles: Omit<Tile, 'label'>[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const tile = {
        minX: left + column * wideM,
        maxX: left + (column + 1) * wideM,
        minY: top - (row + 1) * highM,
        maxY: top - row * highM,
      };
      if (holdsSomething(design, tile)) tiles.push({ column, row, box: tile });
    }
  }
  return tiles.map((tile, i) => ({ ...tile, label: String(i + 1) }));
}

/** The window of a tile on its paper. */
export const tileWindow = (room: PaperRect): PaperRect => ({
  x: room.x + TILE_MARGIN_MM,
  y: room.y + TILE_MARGIN_MM,
  widthMm: room.widthMm - 2 * TILE_MARGIN_MM,
  heightMm: room.heightMm - 2 * TILE_MARGIN_MM,
});

const neighbour = (tile: Tile, tiles: readonly Tile[], columns: number, rows: number): Tile | undefined =>
  tiles.find((t) => t.column === tile.column + columns && t.row === tile.row + rows);

/** The sides of a tile at which another goes on. */
export function matchedSides(tile: Tile, tiles: readonly Tile[]): MatchedSides {
  const sides = [
    ['top', 0, -1],
    ['bottom', 0, 1],
    ['left', -1, 0],
    ['right', 1, 0],
  ] as const;
  return new Set(
    sides.flatMap(([side, columns, rows]) => (neighbour(tile, tiles, columns, rows) ? side : [])),
  );
}

/** Match lines on the sides where another sheet goes on, each naming it. */
export function matchLineItems(
  tile: Tile,
  tiles: readonly Tile[],
  window: PaperRect,
): readonly DrawingItem[] {
  const mark = { layer: 'frame', group: 'match' };
  const { x, y, widthMm: w, heightMm: h } = window;
  const sides = [
    { dc: 0, dr: -1, a: { x, y }, b: { x: x + w, y }, at: { x: x + w / 2, y: y - 2 }, angleRad: 0 },
    {
      dc: 0,
      dr: 1,
      a: { x, y: y + h },
      b: { x: x + w, y: y + h },
      at: { x: x + w / 2, y: y + h + 4 },
      angleRad: 0,
    },
    { dc: -1, dr: 0, a: { x, y }, b: { x, y: y + h }, at: { x: x - 2, y: y + h / 2 }, angleRad: Math.PI / 2 },
    {
      dc: 1,
      dr: 0,
      a: { x: x + w, y },
      b: { x: x + w, y: y + h },
      at: { x: x + w + 4, y: y + h / 2 },
      angleRad: Math.PI / 2,
    },
  ];
  return sides.flatMap((side) => {
    const next = neighbour(tile, tiles, side.dc, side.dr);
    if (!next) return [];
    return [
      lineItem(mark, side.a, side.b, stroke('ink', 0.45, { dashMm: [6, 1.2, 1.2, 1.2] })),
      textItem({ layer: 'frame' }, side.at, words.matchLine(next.label), {
        font: 'narrow-semibold',
        sizeMm: SIZE.text,
        anchor: 'middle',
        angleRad: side.angleRad,
      }),
    ];
  });
}
