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

/** The division of a page of tables: the whole field, and as many columns of it as read well. */
export function tableFrame(paper: Paper): {
  readonly frame: SheetFrame;
  readonly columns: readonly PaperRect[];
} {
  const plan = sheetFrame(paper);
  const { outer } = plan;
  const pad = paper.widthMm < 350 ? 5 : 7;
  const sheetMm = 62;
  const count = Math.max(2, Math.round((outer.widthMm - pad) / 112));
  const columnMm = (outer.widthMm - pad * (count + 1)) / count;
  const field = { ...outer, heightMm: outer.heightMm - TITLE_MM };
  return {
    frame: {
      ...plan,
      field,
      columns: [],
      strip: null,
      title: { ...plan.title, widthMm: outer.widthMm - sheetMm },
      sheet: { ...plan.sheet, x: outer.x + outer.widthMm - sheetMm, widthMm: sheetMm },
    },
    columns: Array.from({ length: count }, (_, i) => ({
      x: outer.x + pad + i * (columnMm + pad),
      y: outer.y + pad,
      widthMm: columnMm,
      heightMm: field.heightMm - 2 * pad,
    })),
  };
}

/** A standing page of calculations: one column, title along the foot. */
export function portraitFrame(paper: Paper): {
  readonly frame: SheetFrame;
  readonly columns: readonly PaperRect[];
} {
  const [margin, pad, sheetMm] = [12, 5, 46];
  const outer = {
    x: margin,
    y: margin,
    widthMm: paper.widthMm - 2 * margin,
    heightMm: paper.heightMm - 2 * margin,
  };
  const field = { ...outer, heightMm: outer.heightMm - TITLE_MM };
  const foot = { y: outer.y + field.heightMm, heightMm: TITLE_MM };
  return {
    frame: {
      outer,
      field,
      columns: [],
      strip: null,
      title: { ...foot, x: outer.x, widthMm: outer.widthMm - sheetMm },
      sheet: { ...foot, x: outer.x + outer.widthMm - sheetMm, widthMm: sheetMm },
    },
    columns: [
      {
        x: outer.x + pad,
        y: outer.y + pad,
        widthMm: outer.widthMm - 2 * pad,
        heightMm: field.heightMm - 2 * pad,
      },
    ],
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
  /** A stop finding stands: the sheet says so beside its number too. */
  readonly isBlocked: boolean;
}

const MARK = { layer: 'frame' };

/** Heading, text, share of the width, and whether it is set heavily. */
type TitleField = readonly [string, string, number, boolean];
/** What a narrow title keeps: project, place, sheet, date. */
const SHORT_FIELDS: readonly number[] = [0, 1, 2, 4];

/** Fields share the width by weight; each holds a small heading over its text. */
function fieldItems(box: PaperRect, fields: readonly TitleField[]): readonly DrawingItem[] {
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
  const fields: readonly TitleField[] = [
    [words.title.project, or(project.title), 30, true],
    [words.title.place, or(project.place), 24, false],
    [words.title.sheet, text.sheetTitle, 30, true],
    [words.title.designer, or(project.designer), 20, false],
    [words.title.date, or(project.date), 14, false],
    [words.title.changes, last ? `${last.mark}  ${last.text}` : words.noChanges, 20, false],
    [words.title.scale, text.scaleText, 17, false],
    [words.title.units, text.unitsText, 15, false],
    [words.title.paper, text.paperName, 12, false],
  ];
  const edge = stroke('ink', WEIGHT.bold, { join: 'miter' });
  const thin = stroke('ink', WEIGHT.mid);
  const right = title.x + title.widthMm;
  return [
    pathItem(MARK, rectSteps(outer.x, outer.y, outer.widthMm, outer.heightMm), { stroke: edge }),
    lineItem(MARK, { x: outer.x, y: title.y }, { x: outer.x + outer.widthMm, y: title.y }, thin),
    lineItem(
      MARK,
      { x: right, y: frame.columns.length > 0 ? outer.y : title.y },
      { x: right, y: outer.y + outer.heightMm },
      thin,
    ),
    ...(frame.strip
      ? [lineItem(MARK, { x: outer.x, y: frame.strip.y }, { x: right, y: frame.strip.y }, thin)]
      : []),
    ...fieldItems(title, title.widthMm < 150 ? fields.filter((_, k) => SHORT_FIELDS.includes(k)) : fields),
    textItem(MARK, { x: sheet.x + 4, y: sheet.y + 4.6 }, words.title.number, {
      sizeMm: SIZE.small,
      ink: 'ink-2',
    }),
    textItem(MARK, { x: sheet.x + 4, y: sheet.y + 11.6 }, words.sheetOf(text.label, text.ofPages), {
      font: 'narrow-semibold',
      sizeMm: SIZE.title,
    }),
    text.isBlocked
      ? textItem(MARK, { x: sheet.x + sheet.widthMm - 4, y: sheet.y + 4.6 }, words.notForConstruction, {
          font: 'narrow-semibold',
          sizeMm: SIZE.text,
          ink: 'stop',
          anchor: 'end',
        })
      : textItem(MARK, { x: sheet.x + sheet.widthMm - 4, y: sheet.y + 11.6 }, words.program, {
          sizeMm: SIZE.small,
          ink: 'ink-2',
          anchor: 'end',
        }),
  ];
}
