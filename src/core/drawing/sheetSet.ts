import type { Design } from '../design';
import { printer } from '../units';
import { drawingWords as words } from '../words';
import { type Block, flowBlocks, type PaperRect } from './blocks';
import { type DetailKey, detailPages } from './details';
import { enlarge } from './enlarge';
import { frameItems, type SheetFrame, type TitleText, tableFrame } from './frame';
import { PAPERS, type Paper, type PaperKey, usualPaper } from './papers';
import { drawPlanSheets } from './planSheets';
import { stampItems } from './stamp';
import {
  calendarBlock,
  commissioningBlocks,
  establishmentBlock,
  ownerZoneBlock,
  whereBlock,
  yearBlock,
} from './tables/cardBlocks';
import { cutBlock, runBlock, stationBlocks, tieBlock } from './tables/layingTables';
import {
  askBlock,
  checkerBlock,
  fillBlock,
  findingBlock,
  mayBlock,
  noteBlock,
  orderBlock,
  revisionBlock,
} from './tables/noteBlocks';
import { labourBlock, takeoffBlock } from './tables/partsTables';
import type { Ties } from './ties';
import type { DrawingItem, DrawingList, DrawingPage } from './types';

/** The kinds of sheet a set may hold. */
export type SheetKind = 'plan' | 'tables' | 'details' | 'commissioning' | 'owner';

/** What may be asked of a set; all else comes from the plan. */
export interface SheetOptions {
  readonly paper?: PaperKey | null;
  /** Denominator of the scale; null or absent: the largest that fits. */
  readonly scaleDenominator?: number | null;
  /** Sheets wanted; all unless said. */
  readonly include?: readonly SheetKind[];
  /** Told after each page, so that a window may show how far it is. */
  readonly onPage?: (done: number) => void;
}

/** A page without its frame: labels and counts are known only when all are made. */
export interface BarePage {
  readonly key: string;
  readonly title: string;
  readonly paper: Paper;
  readonly scaleDenominator: number | null;
  readonly scaleText: string;
  readonly items: readonly DrawingItem[];
  readonly frame: (text: TitleText) => readonly DrawingItem[];
}

/** Every layer a sheet may use, in drawing order. */
export const LAYERS = (Object.keys(words.layers) as (keyof typeof words.layers)[]).map((key) => ({
  key,
  name: words.layers[key],
}));

const MOST_PAGES = 200;

/** How a page of tables is divided: its frame, its columns, and how much larger than the plan's its type is. */
export interface PageLayout {
  readonly frame: SheetFrame;
  readonly columns: readonly PaperRect[];
  readonly enlargedBy: number;
}

/** Pages of flowing tables on one paper. */
export function flowPages(
  key: string,
  title: string,
  blocks: readonly Block[],
  paper: Paper,
  layout: PageLayout,
): readonly BarePage[] {
  const pages: BarePage[] = [];
  const by = layout.enlargedBy;
  const columns = layout.columns.map((c) => ({
    x: c.x / by,
    y: c.y / by,
    widthMm: c.widthMm / by,
    heightMm: c.heightMm / by,
  }));
  let left = blocks;
  while (left.length > 0 && pages.length < MOST_PAGES) {
    const flowed = flowBlocks(left, columns, words.continued);
    pages.push({
      key: `${key}-${pages.length + 1}`,
      title,
      paper,
      scaleDenominator: null,
      scaleText: words.noScale,
      items: enlarge(flowed.items, by),
      frame: (text) => frameItems(layout.frame, text),
    });
    left = flowed.left;
  }
  return pages;
}

const tablePages = (
  key: string,
  title: string,
  blocks: readonly Block[],
  paper: Paper,
  enlargedBy: number,
): readonly BarePage[] => flowPages(key, title, blocks, paper, { ...tableFrame(paper), enlargedBy });

/** Cards are read at arm's length; tables beside a plan as close as the plan. */
const CARD_TYPE = 1.3;
const TABLE_TYPE = 1.08;

function tableBlocks(design: Design, ties: Ties): readonly Block[] {
  const print = printer(design.plan.display.units);
  return [
    runBlock(design, print),
    ...(design.takeoff.rolls.length > 0 ? [cutBlock(design, print)] : []),
    tieBlock(ties, print),
    ...stationBlocks(design, print),
    noteBlock(design, print),
    orderBlock(),
    mayBlock(),
    askBlock(),
    ...(design.takeoff.lines.length > 0 ? [takeoffBlock(design, print)] : []),
    ...(design.takeoff.labour.length > 0 ? [labourBlock(design)] : []),
    fillBlock(design, print),
    revisionBlock(design),
    checkerBlock(),
  ].filter((block): block is Block => block !== null);
}

/** The owner's card is printed at home: letter or A4, whatever the sheet's own paper. */
const homePaper = (paper: Paper): Paper =>
  paper.key.startsWith('a') && !paper.key.startsWith('arch') ? PAPERS.a4 : PAPERS.letter;

function ownerPages(design: Design, ties: Ties, paper: Paper): readonly BarePage[] {
  const print = printer(design.plan.display.units);
  const blocks = [
    ownerZoneBlock(design, print),
    calendarBlock(design),
    establishmentBlock(design),
    whereBlock(design, ties, print),
    yearBlock(design, print),
  ].filter((block): block is Block => block !== null);
  return tablePages('owner', words.pages.owner, blocks, homePaper(paper), CARD_TYPE);
}

/** Gives pages their frames, labels and numbers. */
export function finishPages(
  design: Design,
  pages: readonly BarePage[],
  prefix: string,
): readonly DrawingPage[] {
  const blocked = design.findings.some((f) => f.severity === 'stop');
  return pages.map((page, i) => {
    const label = `${prefix}${i + 1}`;
    const field: PaperRect = {
      x: 12,
      y: 12,
      widthMm: page.paper.widthMm - 24,
      heightMm: page.paper.heightMm - 40,
    };
    return {
      key: page.key,
      title: page.title,
      label,
      widthMm: page.paper.widthMm,
      heightMm: page.paper.heightMm,
      scaleDenominator: page.scaleDenominator,
      items: [
        ...(blocked ? stampItems(field) : []),
        ...page.items,
        ...page.frame({
          plan: design.plan,
          sheetTitle: page.title,
          scaleText: page.scaleText,
          paperName: page.paper.name,
          unitsText: words.units[design.plan.display.units],
          label,
          ofPages: pages.length,
          isBlocked: blocked,
        }),
      ],
    };
  });
}

/** The install set of a design, page by page, in paper millimetres. The same design gives the same list. */
export function drawSheetSet(design: Design, options: SheetOptions = {}): DrawingList {
  const { plan } = design;
  const paper = PAPERS[options.paper ?? plan.display.paper ?? usualPaper(plan.display.units)];
  const wants = (kind: SheetKind): boolean => options.include?.includes(kind) ?? true;
  const sheets = drawPlanSheets(design, paper, options.scaleDenominator ?? plan.display.scaleDenominator);
  const { ties } = sheets;
  const shown = new Set<string>(wants('plan') ? sheets.placed : []);
  const details = new Set<DetailKey>(wants('plan') ? sheets.details : []);
  const print = printer(plan.display.units);
  const finding = findingBlock(design, print);
  const blocks = [...(finding ? [finding] : []), ...sheets.left, ...tableBlocks(design, ties)].filter(
    (block, i, all) => !shown.has(block.key) && all.findIndex((other) => other.key === block.key) === i,
  );
  const pages = [
    ...(wants('plan') ? sheets.pages : []),
    ...(wants('tables') ? tablePages('tables', words.pages.tables, blocks, paper, TABLE_TYPE) : []),
    ...(wants('details') ? detailPages(design, print, paper, details) : []),
    ...(wants('commissioning')
      ? tablePages(
          'commissioning',
          words.pages.commissioning,
          commissioningBlocks(design, print),
          homePaper(paper),
          CARD_TYPE,
        )
      : []),
    ...(wants('owner') ? ownerPages(design, ties, paper) : []),
  ];
  const finished = finishPages(design, pages, '');
  finished.forEach((_, i) => {
    options.onPage?.(i + 1);
  });
  return {
    title: plan.project.title,
    author: plan.project.designer,
    subject: words.pages.plan,
    keywords: words.keywords,
    layers: LAYERS,
    pages: finished,
  };
}
