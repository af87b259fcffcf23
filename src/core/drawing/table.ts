import { type Block, LINE_MM, type Part, widestMm } from './blocks';
import { lineItem, type Mark, SIZE, stroke, textItem, WEIGHT } from './pen';
import { fitText, printable, wrapText } from './text';
import type { DrawingItem, Font } from './types';

/** One column of a table. Water figures (pressure, flow, speed) lean and take the water ink. */
export interface Column {
  readonly title: string;
  readonly align?: 'start' | 'end';
  readonly water?: boolean;
  readonly bold?: boolean;
  /** Least width, for a blank that is written in. */
  readonly leastMm?: number;
  /** A line to write on in every row. */
  readonly blank?: boolean;
}

/** A table to be set: `rows` hold one text a column; an empty text is a blank. */
export interface Table {
  readonly key: string;
  readonly title: string;
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly string[])[];
  /** Column that takes the room left over and whose text may wrap; the first unless said. */
  readonly flexible?: number;
  /** A sentence under a row, over the whole width; empty for none. */
  readonly notes?: readonly string[];
  /** A sentence under the last row, over the whole width; empty for none. */
  readonly foot?: string;
  /** A hair rule under every row, for blanks to be written on. */
  readonly ruled?: boolean;
}

const GAP_MM = 2.2;
const MOST_GAP_MM = 16;
const fontOf = (column: Column): Font =>
  column.water ? 'narrow-italic' : column.bold ? 'narrow-semibold' : 'narrow';

interface Set {
  readonly x: number;
  readonly widthMm: number;
}

/** Widths by content; the flexible column gets what is left, and never less than a fifth of the table. */
function setColumns(table: Table, columnMm: number): readonly Set[] {
  const flexible = table.flexible ?? 0;
  const natural = table.columns.map((column, i) =>
    Math.max(
      column.leastMm ?? 0,
      widestMm([column.title], 'narrow-italic', SIZE.small),
      widestMm(
        table.rows.map((row) => printable(row[i] ?? '')),
        fontOf(column),
        SIZE.note,
      ),
    ),
  );
  // Figures that stand a page away from their row are not read with it: a wide column is not filled to its edge.
  const asked = natural.reduce((sum, width) => sum + width, 0) + MOST_GAP_MM * (table.columns.length - 1);
  const widthMm = Math.min(columnMm, Math.max(asked, columnMm * 0.45));
  const gaps = GAP_MM * (table.columns.length - 1);
  const others = natural.reduce((sum, width, i) => (i === flexible ? sum : sum + width), 0);
  const least = Math.min(natural[flexible] ?? 0, widthMm / 5);
  const room = widthMm - gaps - others;
  const squeeze = room < least && others > 0 ? Math.max(0.2, (widthMm - gaps - least) / others) : 1;
  const widths = natural.map((width, i) =>
    i === flexible ? Math.max(least, Math.min(room, width)) : width * squeeze,
  );
  const spare = Math.max(0, room - (natural[flexible] ?? 0)) / Math.max(1, table.columns.length - 1);
  let x = 0;
  return widths.map((width) => {
    const set = { x, widthMm: width };
    x += width + GAP_MM + spare;
    return set;
  });
}

const endOf = (sets: readonly Set[]): number => {
  const last = sets[sets.length - 1];
  return last ? last.x + last.widthMm : 0;
};

function cellItem(mark: Mark, column: Column, set: Set, x: number, y: number, text: string): DrawingItem {
  const end = column.align === 'end';
  return textItem(mark, { x: x + set.x + (end ? set.widthMm : 0), y }, text, {
    font: fontOf(column),
    sizeMm: SIZE.note,
    ink: column.water ? 'water' : 'ink',
    anchor: end ? 'end' : 'start',
  });
}

function headPart(mark: Mark, table: Table, sets: readonly Set[]): Part {
  return {
    heightMm: 4.2,
    draw: (x, y) => [
      ...table.columns.map((column, i) => {
        const set = sets[i]!;
        const end = column.align === 'end';
        const font = column.water ? 'narrow-italic' : 'narrow';
        return textItem(
          mark,
          { x: x + set.x + (end ? set.widthMm : 0), y: y + 1.9 },
          fitText(column.title, font, SIZE.small, set.widthMm + GAP_MM / 2),
          { font, sizeMm: SIZE.small, ink: 'ink-2', anchor: end ? 'end' : 'start' },
        );
      }),
      lineItem(mark, { x, y: y + 2.9 }, { x: x + endOf(sets), y: y + 2.9 }, stroke('ink', WEIGHT.hair)),
    ],
  };
}

function rowPart(mark: Mark, table: Table, sets: readonly Set[], row: readonly string[]): Part {
  const cells = table.columns.map((column, i) => {
    const text = row[i] ?? '';
    const set = sets[i]!;
    return i === (table.flexible ?? 0)
      ? wrapText(text, fontOf(column), SIZE.note, set.widthMm)
      : [fitText(text, fontOf(column), SIZE.note, set.widthMm + 0.05)];
  });
  const lines = Math.max(...cells.map((cell) => cell.length));
  const extra = table.ruled ? 2 : table.columns.some((c) => c.blank) ? 1 : 0;
  return {
    heightMm: lines * LINE_MM + extra,
    draw: (x, y) => [
      ...cells.flatMap((cell, i) =>
        cell
          .map((text, line) => ({ text, line }))
          .filter(({ text }) => text !== '')
          .map(({ text, line }) =>
            cellItem(mark, table.columns[i]!, sets[i]!, x, y + extra + 2.3 + line * LINE_MM, text),
          ),
      ),
      ...table.columns.flatMap((column, i) =>
        column.blank
          ? lineItem(
              mark,
              { x: x + sets[i]!.x, y: y + extra + 2.7 },
              { x: x + sets[i]!.x + sets[i]!.widthMm, y: y + extra + 2.7 },
              stroke('ink', WEIGHT.hair),
            )
          : [],
      ),
      ...(table.ruled
        ? [
            lineItem(
              mark,
              { x, y: y + lines * LINE_MM + extra - 0.2 },
              { x: x + endOf(sets), y: y + lines * LINE_MM + extra - 0.2 },
              stroke('rule', WEIGHT.hair),
            ),
          ]
        : []),
    ],
  };
}

/** A row with the sentence that belongs to it, kept together. */
function withNote(mark: Mark, row: Part, note: string, indentMm: number, widthMm: number): Part {
  if (note === '') return row;
  const lines = wrapText(note, 'narrow', SIZE.note, widthMm - indentMm);
  return {
    heightMm: row.heightMm + lines.length * LINE_MM,
    draw: (x, y) => [
      ...row.draw(x, y),
      ...lines.map((text, i) =>
        textItem(mark, { x: x + indentMm, y: y + row.heightMm + 2.3 + i * LINE_MM }, text, {
          sizeMm: SIZE.note,
          ink: 'ink-2',
        }),
      ),
    ],
  };
}

/** A table as a block: column heads repeat wherever it runs on. */
export function tableBlock(table: Table): Block {
  const mark = { layer: 'tables' };
  const setFor = (widthMm: number) => setColumns(table, widthMm);
  return {
    key: table.key,
    title: table.title,
    head: (widthMm) =>
      table.columns.some((c) => c.title !== '') ? [headPart(mark, table, setFor(widthMm))] : [],
    parts: (widthMm) => {
      const sets = setFor(widthMm);
      const indent = sets[1]?.x ?? 0;
      return table.rows.map((row, i) => {
        const part = withNote(mark, rowPart(mark, table, sets, row), table.notes?.[i] ?? '', indent, widthMm);
        const isLast = i === table.rows.length - 1;
        return isLast ? withNote(mark, part, table.foot ?? '', 0, widthMm) : part;
      });
    },
  };
}
