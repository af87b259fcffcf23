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

/** Text wrapped into rows, a gap after the last. */
export function paragraphParts(
  mark: Mark,
  text: string,
  widthMm: number,
  font: Font = 'narrow',
  gapMm = 0.8,
): readonly Part[] {
  const lines = wrapText(text, font, SIZE.note, widthMm);
  return lines.map((line, i) => {
    const part = textPart(mark, line, font);
    return i === lines.length - 1 ? { ...part, heightMm: part.heightMm + gapMm } : part;
  });
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

/** Places whole blocks in the first column that still has room, in order of rank; a block that fits nowhere is left over. */
export function placeWhole(blocks: readonly Block[], columns: readonly PaperRect[]): Flowed {
  const used = columns.map(() => 0);
  const items: DrawingItem[] = [];
  const left: Block[] = [];
  for (const block of blocks) {
    const index = columns.findIndex(
      (column, i) => used[i]! + blockHeightMm(block, column.widthMm) <= column.heightMm,
    );
    const column = columns[index];
    if (!column) {
      left.push(block);
      continue;
    }
    const parts = [
      titlePart({ layer: 'tables' }, block.title, column.widthMm),
      ...block.head(column.widthMm),
      ...block.parts(column.widthMm),
    ];
    items.push(...drawParts(parts, column.x, column.y + used[index]!));
    used[index] = used[index]! + total(parts) + BLOCK_GAP_MM;
  }
  return { items, left };
}

const rest = (block: Block, widthMm: number, from: number, continued: (title: string) => string): Block => ({
  ...block,
  title: continued(block.title),
  parts: () => block.parts(widthMm).slice(from),
});

/**
 * Flows blocks down columns of one width, breaking a block between its parts where a column ends. What does not fit
 * is left for the next page. A part taller than a column is set all the same, so that the flow always ends.
 */
export function flowBlocks(
  blocks: readonly Block[],
  columns: readonly PaperRect[],
  continued: (title: string) => string,
): Flowed {
  const items: DrawingItem[] = [];
  const queue = [...blocks];
  for (const column of columns) {
    let used = 0;
    while (queue.length > 0) {
      const block = queue[0]!;
      const head = [
        titlePart({ layer: 'tables' }, block.title, column.widthMm),
        ...block.head(column.widthMm),
      ];
      const parts = block.parts(column.widthMm);
      const room = column.heightMm - used - total(head);
      let count = 0;
      let height = 0;
      while (count < parts.length && height + parts[count]!.heightMm <= room + 1e-6) {
        height += parts[count]!.heightMm;
        count++;
      }
      const keepsTogether = parts.length <= 8 && count < parts.length;
      if ((count < Math.min(3, parts.length) || keepsTogether) && used > 0) break;
      if (count === 0 && parts.length > 0) count = 1;
      items.push(...drawParts([...head, ...parts.slice(0, count)], column.x, column.y + used));
      used += total(head) + height + BLOCK_GAP_MM;
      queue.shift();
      if (count < parts.length) {
        queue.unshift(rest(block, column.widthMm, count, continued));
        break;
      }
    }
  }
  return { items, left: queue };
}

/** The widest of some texts, mm. */
export const widestMm = (texts: readonly string[], font: Font, sizeMm: number): number =>
  texts.reduce((most, text) => Math.max(most, measureText(text, font, sizeMm)), 0);
