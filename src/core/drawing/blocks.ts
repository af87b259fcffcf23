import { lineItem, type Mark, SIZE, stroke, textItem, WEIGHT } from './pen';
import { measureText, wrapText } from './text';
import type { DrawingItem, Font } from './types';

/** A rectangle on paper, mm. */
export interface PaperRect {
  readonly x: number;
  readonly y: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Does a place of the paper lie within a rectangle of it? */
export const isInRect = (
  { x, y, widthMm, heightMm }: PaperRect,
  p: { readonly x: number; readonly y: number },
): boolean => p.x > x && p.y > y && p.x < x + widthMm && p.y < y + heightMm;

/** One unbreakable piece of a block, a line of a table or of text. */
export interface Part {
  readonly heightMm: number;
  readonly draw: (x: number, y: number) => readonly DrawingItem[];
}

/** Something that flows down a column: a title over parts. */
export interface Block {
  readonly key: string;
  readonly title: string;
  /** Repeated at the head of every column the block runs on into. */
  readonly head: (widthMm: number) => readonly Part[];
  readonly parts: (widthMm: number) => readonly Part[];
}

export const LINE_MM = 3.45;
const TITLE_MM = 5.6;
export const BLOCK_GAP_MM = 5;

/** One row of text at `sizeMm`. */
export function textPart(mark: Mark, text: string, font: Font = 'narrow', sizeMm: number = SIZE.note): Part {
  return {
    heightMm: LINE_MM,
    draw: (x, y) => [textItem(mark, { x, y: y + 2.5 }, text, { font, sizeMm })],
  };
}

/** Parts that stay together, one under the other. */
export function stackedPart(parts: readonly Part[]): Part {
  return {
    heightMm: parts.reduce((sum, part) => sum + part.heightMm, 0),
    draw: (x, y) => {
      let at = y;
      return parts.flatMap((part) => {
        const items = part.draw(x, at);
        at += part.heightMm;
        return items;
      });
    },
  };
}

/** A paragraph of no more rows than this is not broken over two columns. */
const UNBROKEN_ROWS = 3;

/** Text wrapped into rows, a gap after the last. */
export function paragraphParts(
  mark: Mark,
  text: string,
  widthMm: number,
  font: Font = 'narrow',
  gapMm = 0.8,
): readonly Part[] {
  const lines = wrapText(text, font, SIZE.note, widthMm);
  const rows = lines.map((line, i) => {
    const part = textPart(mark, line, font);
    return i === lines.length - 1 ? { ...part, heightMm: part.heightMm + gapMm } : part;
  });
  return rows.length > 1 && rows.length <= UNBROKEN_ROWS ? [stackedPart(rows)] : rows;
}

/** Blank paper. */
export const gapPart = (heightMm: number): Part => ({ heightMm, draw: () => [] });

function titlePart(mark: Mark, title: string, widthMm: number): Part {
  return {
    heightMm: TITLE_MM,
    draw: (x, y) => [
      textItem(mark, { x, y: y + 3 }, title, { font: 'narrow-semibold', sizeMm: 2.8 }),
      lineItem(mark, { x, y: y + 4.1 }, { x: x + widthMm, y: y + 4.1 }, stroke('ink', WEIGHT.bold)),
    ],
  };
}

const total = (parts: readonly Part[]): number => parts.reduce((sum, part) => sum + part.heightMm, 0);

/** Height of a whole block set at a width. */
export const blockHeightMm = (block: Block, widthMm: number): number =>
  TITLE_MM + total(block.head(widthMm)) + total(block.parts(widthMm));

function drawParts(parts: readonly Part[], x: number, y: number): readonly DrawingItem[] {
  let at = y;
  return parts.flatMap((part) => {
    const items = part.draw(x, at);
    at += part.heightMm;
    return items;
  });
}

/** What was set, and what is still to be set elsewhere. */
export interface Flowed {
  readonly items: readonly DrawingItem[];
  readonly left: readonly Block[];
}

/** A block, or the first of its parts, set at a place. */
export interface PlacedBlock {
  readonly block: Block;
  readonly count: number;
  readonly x: number;
  readonly y: number;
  readonly widthMm: number;
}

/** Blocks placed in columns, and those still to be placed. */
export interface Flow {
  readonly placed: readonly PlacedBlock[];
  readonly left: readonly Block[];
}

interface Shelf {
  readonly block: Block;
  readonly column: PaperRect;
  readonly usedMm: number;
}

/** Whole blocks, each in the first column that still has room, in order of rank; null where it fits none. */
function shelve(
  blocks: readonly Block[],
  columns: readonly PaperRect[],
): readonly (Shelf | { readonly block: Block; readonly column: null })[] {
  const used = columns.map(() => 0);
  return blocks.map((block) => {
    const index = columns.findIndex(
      (column, i) => used[i]! + blockHeightMm(block, column.widthMm) <= column.heightMm,
    );
    const column = columns[index];
    if (!column) return { block, column: null };
    const usedMm = used[index]!;
    used[index] = usedMm + blockHeightMm(block, column.widthMm) + BLOCK_GAP_MM;
    return { block, column, usedMm };
  });
}

/** The blocks for which `placeWhole` would find no room. */
export const leftOver = (blocks: readonly Block[], columns: readonly PaperRect[]): readonly Block[] =>
  shelve(blocks, columns).flatMap(({ block, column }) => (column ? [] : [block]));

/** Places whole blocks in the first column that still has room, in order of rank; a block that fits nowhere is left over. */
export function placeWhole(blocks: readonly Block[], columns: readonly PaperRect[]): Flowed {
  const shelves = shelve(blocks, columns);
  const items = shelves.flatMap((shelf) => {
    if (!shelf.column) return [];
    const { block, column, usedMm } = shelf;
    const parts = [
      titlePart({ layer: 'tables' }, block.title, column.widthMm),
      ...block.head(column.widthMm),
      ...block.parts(column.widthMm),
    ];
    return drawParts(parts, column.x, column.y + usedMm);
  });
  return { items, left: shelves.flatMap(({ block, column }) => (column ? [] : [block])) };
}

const rest = (block: Block, widthMm: number, from: number, continued: (title: string) => string): Block => ({
  ...block,
  title: continued(block.title),
  parts: () => block.parts(widthMm).slice(from),
});

/** How far ahead a later block is looked for to fill the foot of a column. */
const LOOK_AHEAD = 4;

/** Blocks of so few parts, or of less than so much of a column, are never broken over two columns. */
const MOST_WHOLE_PARTS = 8;
const MOST_WHOLE_RATIO = 0.4;

interface Cut {
  readonly count: number;
  readonly heightMm: number;
  readonly isBroken: boolean;
}

/** How much of a block goes into the room left in a column; none where only a stub of it would. */
function cutOf(block: Block, column: PaperRect, usedMm: number): Cut {
  const { widthMm } = column;
  const roomMm = column.heightMm - usedMm;
  const isTop = usedMm === 0;
  const headMm = TITLE_MM + total(block.head(widthMm));
  const parts = block.parts(widthMm);
  let count = 0;
  let heightMm = headMm;
  while (count < parts.length && heightMm + parts[count]!.heightMm <= roomMm + 1e-6) {
    heightMm += parts[count]!.heightMm;
    count++;
  }
  const isBroken = count < parts.length;
  const isSmall = headMm + total(parts) <= column.heightMm * MOST_WHOLE_RATIO;
  const staysWhole = isBroken && (parts.length <= MOST_WHOLE_PARTS || isSmall);
  if ((count < Math.min(3, parts.length) || staysWhole) && !isTop) return { count: 0, heightMm: 0, isBroken };
  if (count === 0 && parts.length > 0) {
    return { count: 1, heightMm: headMm + parts[0]!.heightMm, isBroken: parts.length > 1 };
  }
  if (isBroken && parts.length - count < 3 && count > 4) {
    const kept = parts.slice(0, parts.length - 3);
    return { count: kept.length, heightMm: headMm + total(kept), isBroken };
  }
  return { count, heightMm, isBroken };
}

/**
 * Flows blocks down columns of one width, breaking a block between its parts where a column ends. A later block that
 * fits whole takes the foot of a column that the next in turn leaves empty. What does not fit is left for the next
 * page. A part taller than a column is set all the same, so that the flow always ends. Nothing is drawn yet.
 */
export function flowBlocks(
  blocks: readonly Block[],
  columns: readonly PaperRect[],
  continued: (title: string) => string,
): Flow {
  const placed: PlacedBlock[] = [];
  const queue = [...blocks];
  for (const column of columns) {
    let used = 0;
    while (queue.length > 0) {
      const roomMm = column.heightMm - used;
      const first = cutOf(queue[0]!, column, used);
      const ahead =
        first.count > 0
          ? 0
          : queue.slice(0, LOOK_AHEAD).findIndex((block) => blockHeightMm(block, column.widthMm) <= roomMm);
      if (ahead < 0) break;
      const [block] = queue.splice(ahead, 1);
      const cut = ahead === 0 ? first : cutOf(block!, column, used);
      placed.push({
        block: block!,
        count: cut.count,
        x: column.x,
        y: column.y + used,
        widthMm: column.widthMm,
      });
      used += cut.heightMm + BLOCK_GAP_MM;
      if (cut.isBroken) {
        queue.unshift(rest(block!, column.widthMm, cut.count, continued));
        break;
      }
    }
  }
  return { placed, left: queue };
}

/** Draws blocks where a flow placed them. */
export const drawPlaced = (placed: readonly PlacedBlock[]): readonly DrawingItem[] =>
  placed.flatMap(({ block, count, x, y, widthMm }) =>
    drawParts(
      [
        titlePart({ layer: 'tables' }, block.title, widthMm),
        ...block.head(widthMm),
        ...block.parts(widthMm).slice(0, count),
      ],
      x,
      y,
    ),
  );

/** A block that sets itself once for each width, however often it is asked. */
export function rememberParts(block: Block): Block {
  const remember = (make: (widthMm: number) => readonly Part[]) => {
    const known = new Map<number, readonly Part[]>();
    return (widthMm: number): readonly Part[] => {
      const parts = known.get(widthMm) ?? make(widthMm);
      known.set(widthMm, parts);
      return parts;
    };
  };
  return { ...block, head: remember(block.head), parts: remember(block.parts) };
}

/** The widest of some texts, mm. */
export const widestMm = (texts: readonly string[], font: Font, sizeMm: number): number =>
  texts.reduce((most, text) => Math.max(most, measureText(text, font, sizeMm)), 0);
