import type { Design } from '../design';
import { type Printer, printer } from '../units';
import { layWords, drawingWords as words } from '../words';
import type { Block, PaperRect } from './blocks';
import { type DetailKey, detailBlocks, detailPages } from './details';
import { flowPages, type PageLayout } from './flow';
import { type TitleText, tableFrame } from './frame';
import { layLayout } from './layStrip/pages';
import { layBlocks } from './layStrip/strip';
import { PAPERS, type Paper, type PaperKey, usualPaper } from './papers';
import { drawPlanSheets } from './planSheets';
import { withPrintedBeds } from './printedBeds';
import { stampItems } from './stamp';
import {
  calendarBlock,
  commissioningBlocks,
  establishmentBlock,
  ownerZoneBlock,
  upkeepBlocks,
  whereBlock,
} from './tables/cardBlocks';
import { foresightBlocks } from './tables/foresightBlocks';
import { cutBlock, runBlock, tieBlock } from './tables/layingTables';
import {
  askBlock,
  checkerBlock,
  findingBlock,
  mayBlock,
  noteBlock,
  orderBlock,
  revisionBlock,
} from './tables/noteBlocks';
import { labourBlock, takeoffBlock } from './tables/partsTables';
import { stationBlocks } from './tables/stationTables';
import type { Ties } from './ties';
import type { DrawingItem, DrawingList, DrawingPage } from './types';

/** The kinds of sheet a set may hold. */
export type SheetKind = 'plan' | 'tables' | 'details' | 'laying' | 'commissioning' | 'owner';

/** What may be asked of a set; all else comes from the plan. */
export interface SheetOptions {
  readonly paper?: PaperKey | null;
  /** Denominator of the scale; null or absent: the largest that fits. */
  readonly scaleDenominator?: number | null;
  /** Sheets wanted; all unless said. */
  readonly include?: readonly SheetKind[];
  /** Told after each plan page is lettered, which is most of the work, and after the rest together, so that a window may show how far it is. */
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

const tablePages = (
  key: string,
  title: string,
  blocks: readonly Block[],
  paper: Paper,
  type: Pick<PageLayout, 'largestType' | 'leastType'>,
): readonly BarePage[] => flowPages(key, title, blocks, paper, { ...tableFrame(paper), ...type });

/** Cards are read at arm's length; tables beside a plan as close as the plan. */
const CARD_TYPE = { largestType: 1.4 };
/** No page is saved by setting tables smaller than can be read on a tailgate: letters 1.7 mm high. */
const TABLE_TYPE = { largestType: 1.3, leastType: 1.1 };

function tableBlocks(design: Design, ties: Ties): readonly Block[] {
  const print = printer(design.plan.display.units);
  return [
    runBlock(design, print),
    ...(design.takeoff.rolls.length > 0 ? [cutBlock(design, print)] : []),
    tieBlock(ties, print),
    ...stationBlocks(design, print),
    noteBlock(design, print),
    orderBlock(),
    mayBlock(print),
    askBlock(),
    ...(design.takeoff.lines.length > 0 ? [takeoffBlock(design, print)] : []),
    ...(design.takeoff.labour.length > 0 ? [labourBlock(design)] : []),
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
    ...upkeepBlocks(design, print),
  ].filter((block): block is Block => block !== null);
  return tablePages('owner', words.pages.owner, blocks, homePaper(paper), CARD_TYPE);
}

/** Strips to fold: each bed's tubing in the order of laying. None where nothing is routed. */
function layPages(design: Design, print: Printer, paper: Paper): readonly BarePage[] {
  const { layout, folds } = layLayout(paper);
  return flowPages('laying', layWords.title, layBlocks(design, print), paper, layout).map((page) => ({
    ...page,
    items: [...page.items, ...folds],
  }));
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
export function drawSheetSet(given: Design, options: SheetOptions = {}): DrawingList {
  const design = withPrintedBeds(given);
  const { plan } = design;
  const paper = PAPERS[options.paper ?? plan.display.paper ?? usualPaper(plan.display.units)];
  const wants = (kind: SheetKind): boolean => options.include?.includes(kind) ?? true;
  let done = 0;
  const tell = (): void => {
    done += 1;
    options.onPage?.(done);
  };
  const sheets = drawPlanSheets(
    design,
    paper,
    options.scaleDenominator ?? plan.display.scaleDenominator,
    () => {
      options.onPage?.(++done);
    },
  );
  const { ties } = sheets;
  const shown = new Set<string>(wants('plan') ? sheets.placed : []);
  const details = new Set<DetailKey>(wants('plan') ? sheets.details : []);
  const print = printer(plan.display.units);
  const finding = findingBlock(design, print);
  const fewDetails = wants('details') && wants('tables') ? detailBlocks(design, print, details) : [];
  const blocks = [
    ...(finding ? [finding] : []),
    ...sheets.left,
    ...fewDetails,
    ...tableBlocks(design, ties),
  ].filter(
    (block, i, all) => !shown.has(block.key) && all.findIndex((other) => other.key === block.key) === i,
  );
  const pages = [
    ...(wants('plan') ? sheets.pages : []),
    ...(wants('tables') ? tablePages('tables', words.pages.tables, blocks, paper, TABLE_TYPE) : []),
    ...(wants('details') && fewDetails.length === 0 ? detailPages(design, print, paper, details) : []),
    ...(wants('laying') ? layPages(design, print, paper) : []),
    ...(wants('commissioning')
      ? tablePages(
          'commissioning',
          words.pages.commissioning,
          [...commissioningBlocks(design, print), ...foresightBlocks(design, print)],
          homePaper(paper),
          CARD_TYPE,
        )
      : []),
    ...(wants('owner') ? ownerPages(design, ties, paper) : []),
  ];
  while (done < pages.length) tell();
  return {
    title: plan.project.title,
    author: plan.project.designer,
    subject: words.pages.plan,
    keywords: words.keywords,
    layers: LAYERS,
    pages: finishPages(design, pages, ''),
  };
}
