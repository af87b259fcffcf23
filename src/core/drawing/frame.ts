import type { Plan } from '../plan';
import { drawingWords as words } from '../words';
import type { PaperRect } from './blocks';
import type { Paper } from './papers';
import { lineItem, pathItem, rectSteps, SIZE, stroke, textItem, WEIGHT } from './pen';
import { fitText } from './text';
import type { DrawingItem } from './types';

/** How one paper is divided. */
export interface SheetFrame {
  readonly outer: PaperRect;
  /** The plan view, or the field of a page of tables. */
  readonly field: PaperRect;
  /** Columns of tables beside the plan view. */
  readonly columns: readonly PaperRect[];
  /** Strip of details under the plan view; null where the paper is too small for it. */
  readonly strip: PaperRect | null;
  readonly title: PaperRect;
  readonly sheet: PaperRect;
}

const TITLE_MM = 15;
const STRIP_MM = 52;

/** The division of a paper: margin no printer cuts, columns at the right, title along the foot. */
export function sheetFrame(paper: Paper): SheetFrame {
  const isSmall = paper.widthMm < 350;
  const isLarge = paper.widthMm > 700;
  const margin = isSmall ? 8 : isLarge ? 14 : 10;
  const columnMm = isSmall ? 66 : 88;
  const count = isLarge ? 2 : 1;
  const pad = isSmall ? 3 : 4;
  const outer = {
    x: margin,
    y: margin,
    widthMm: paper.widthMm - 2 * margin,
    heightMm: paper.heightMm - 2 * margin,
  };
  const sideMm = count * columnMm + pad * (count + 1);
  const mainMm = outer.widthMm - sideMm;
  const stripMm = isSmall ? 0 : STRIP_MM;
  const bottom = outer.y + outer.heightMm;
  const columns = Array.from({ length: count }, (_, i) => ({
    x: outer.x + mainMm + pad + i * (columnMm + pad),
    y: outer.y + pad,
    widthMm: columnMm,
    heightMm: outer.heightMm - TITLE_MM - 2 * pad,
  }));
  return {
    outer,
    field: { x: outer.x, y: outer.y, widthMm: mainMm, heightMm: outer.heightMm - TITLE_MM - stripMm },
    columns,
    strip:
      stripMm === 0
        ? null
        : { x: outer.x, y: bottom - TITLE_MM - stripMm, widthMm: mainMm, heightMm: stripMm },
    title: { x: outer.x, y: bottom - TITLE_MM, widthMm: mainMm, heightMm: TITLE_MM },
    sheet: { x: outer.x + mainMm, y: bottom - TITLE_MM, widthMm: sideMm, heightMm: TITLE_MM },
  };
}

/** What the title block says of one page. */
export interface TitleText {
  readonly plan: Plan;
  readonly sheetTitle: string;
  readonly scaleText: string;
  readonly paperName: string;
  readonly unitsText: string;
  readonly label: string;
  readonly ofPages: number;
}

const MARK = { layer: 'frame' };

/** Fields share the width by weight; each holds a small heading over its text. */
function fieldItems(
  box: PaperRect,
  fields: readonly (readonly [string, string, number, boolean])[],
): readonly DrawingItem[] {
  const weights = fields.reduce((sum, field) => sum + field[2], 0);
  let x = box.x + 3;
  return fields.flatMap(([heading, text, weight, strong]) => {
    const widthMm = ((box.widthMm - 3) * weight) / weights;
    const font = strong ? ('narrow-semibold' as const) : ('narrow' as const);
    const sizeMm = strong && box.widthMm > 260 ? SIZE.head : SIZE.text;
    const items = [
      textItem(MARK, { x, y: box.y + 4.6 }, heading, { sizeMm: SIZE.small, ink: 'ink-2' }),
      textItem(MARK, { x, y: box.y + 10 }, fitText(text, font, sizeMm, widthMm - 2.5), { font, sizeMm }),
    ];
    x += widthMm;
    return items;
  });
}

/** Border, title block and sheet number of one page. */
export function frameItems(frame: SheetFrame, text: TitleText): readonly DrawingItem[] {
  const { outer, title, sheet } = frame;
  const { project } = text.plan;
  const last = project.revisions[project.revisions.length - 1];
  const or = (value: string): string => (value.trim() === '' ? words.toFillIn : value);
  const edge = stroke('ink', WEIGHT.bold, { join: 'miter' });
  const thin = stroke('ink', WEIGHT.mid);
  const right = title.x + title.widthMm;
  return [
    pathItem(MARK, rectSteps(outer.x, outer.y, outer.widthMm, outer.heightMm), { stroke: edge }),
    lineItem(MARK, { x: outer.x, y: title.y }, { x: outer.x + outer.widthMm, y: title.y }, thin),
    lineItem(MARK, { x: right, y: outer.y }, { x: right, y: outer.y + outer.heightMm }, thin),
    ...fieldItems(title, [
      [words.title.project, or(project.title), 30, true],
      [words.title.place, or(project.place), 24, false],
      [words.title.sheet, text.sheetTitle, 30, true],
      [words.title.designer, or(project.designer), 20, false],
      [words.title.date, or(project.date), 14, false],
      [words.title.changes, last ? `${last.mark}  ${last.text}` : words.noChanges, 20, false],
      [words.title.scale, text.scaleText, 17, false],
      [words.title.units, text.unitsText, 15, false],
      [words.title.paper, text.paperName, 12, false],
    ]),
    textItem(MARK, { x: sheet.x + 4, y: sheet.y + 4.6 }, words.title.number, {
      sizeMm: SIZE.small,
      ink: 'ink-2',
    }),
    textItem(MARK, { x: sheet.x + 4, y: sheet.y + 11.6 }, words.sheetOf(text.label, text.ofPages), {
      font: 'narrow-semibold',
      sizeMm: SIZE.title,
    }),
    textItem(MARK, { x: sheet.x + sheet.widthMm - 4, y: sheet.y + 11.6 }, 'Rillsheet', {
      sizeMm: SIZE.small,
      ink: 'ink-2',
      anchor: 'end',
    }),
  ];
}
