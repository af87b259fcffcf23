import type { Design } from '../design';
import { type Box, type PaperView, planToPaper, ringsOf } from '../geometry';
import { drawingWords as words } from '../words';
import type { Block, PaperRect } from './blocks';
import { ringSteps } from './lineTypes';
import { pathItem, rectSteps, stroke, textItem, WEIGHT } from './pen';
import { FreePaper } from './placement/freePaper';
import { inkOf } from './placement/ink';
import { measureText } from './text';
import type { Tile } from './tiles';
import type { DrawingItem } from './types';

const MARK = { layer: 'tables' };
const HIGHEST_MM = 62;
const FONT = 'narrow-semibold';
/** Places tried for a number across and down its sheet. */
const TRIED = 24;

/** The whole plan in small, its sheets numbered, this one framed heavily. */
export function keyMapBlock(design: Design, tiles: readonly Tile[], current: Tile | null): Block {
  return {
    key: 'key-map',
    title: words.keyMap,
    head: () => [],
    parts: (widthMm) => {
      const box = tiles.reduce(
        (all, t) => ({
          minX: Math.min(all.minX, t.box.minX),
          minY: Math.min(all.minY, t.box.minY),
          maxX: Math.max(all.maxX, t.box.maxX),
          maxY: Math.max(all.maxY, t.box.maxY),
        }),
        tiles[0]!.box,
      );
      const perM = Math.min(widthMm / (box.maxX - box.minX), HIGHEST_MM / (box.maxY - box.minY));
      return [
        {
          heightMm: (box.maxY - box.minY) * perM + 2,
          draw: (x, y) =>
            keyMapItems(design, tiles, current, {
              plan: { x: box.minX, y: box.maxY },
              paper: { x, y },
              scaleDenominator: 1000 / perM,
              turnRad: 0,
            }),
        },
      ];
    },
  };
}

function keyMapItems(
  design: Design,
  tiles: readonly Tile[],
  current: Tile | null,
  view: PaperView,
): readonly DrawingItem[] {
  const beds = design.beds.map((bed) =>
    pathItem(MARK, ringSteps(ringsOf(bed.layout.outline).map((r) => r.map((p) => planToPaper(p, view)))), {
      fill: 'bed',
      evenOdd: true,
      stroke: stroke('ink-2', WEIGHT.hair),
    }),
  );
  const framed = tiles.map((tile) => {
    const isThis = tile.label === current?.label;
    const frame = paperBox(tile.box, view);
    return {
      frame: pathItem(MARK, rectSteps(frame.x, frame.y, frame.widthMm, frame.heightMm), {
        stroke: stroke('ink', isThis ? 0.7 : WEIGHT.thin),
      }),
      room: frame,
      label: tile.label,
      sizeMm: isThis ? 3.5 : 2.6,
    };
  });
  const frames = framed.map(({ frame }) => frame);
  const ink = inkOf([...beds, ...frames]);
  const numbers = framed.map(({ room, label, sizeMm }) =>
    textItem(MARK, clearPlace(new FreePaper(room, ink), label, sizeMm), label, {
      font: FONT,
      sizeMm,
      anchor: 'middle',
    }),
  );
  return [...beds, ...frames, ...numbers];
}

function paperBox(box: Box, view: PaperView): PaperRect {
  const corner = planToPaper({ x: box.minX, y: box.maxY }, view);
  const far = planToPaper({ x: box.maxX, y: box.minY }, view);
  return { x: corner.x, y: corner.y, widthMm: far.x - corner.x, heightMm: far.y - corner.y };
}

/** Where a number stands clear of every line, as near the middle of its sheet as may be; the middle where no place is clear. */
function clearPlace(paper: FreePaper, label: string, sizeMm: number): { x: number; y: number } {
  const { room } = paper;
  const wideMm = measureText(label, FONT, sizeMm) + 0.4;
  const highMm = 0.8 * sizeMm;
  const middle = { x: room.x + room.widthMm / 2, y: room.y + room.heightMm / 2 };
  let place = middle;
  let leastMm = Number.POSITIVE_INFINITY;
  for (let i = 1; i < TRIED; i++)
    for (let j = 1; j < TRIED; j++) {
      const at = { x: room.x + (i * room.widthMm) / TRIED, y: room.y + (j * room.heightMm) / TRIED };
      const awayMm = Math.hypot(at.x - middle.x, at.y - middle.y);
      if (awayMm >= leastMm || !paper.isFree(at.x - wideMm / 2, at.y - highMm / 2, wideMm, highMm)) continue;
      place = at;
      leastMm = awayMm;
    }
  return { x: place.x, y: place.y + 0.36 * sizeMm };
}
