import { drawingWords as words } from '../words';
import {
  type Block,
  drawPlaced,
  flowBlocks,
  type PaperRect,
  type PlacedBlock,
  rememberParts,
} from './blocks';
import { enlarge } from './enlarge';
import { frameItems, type SheetFrame } from './frame';
import type { Paper } from './papers';
import type { BarePage } from './sheetSet';

/** How a page of tables is divided: its frame, its columns, and the largest its type may be beside the plan's. */
export interface PageLayout {
  readonly frame: SheetFrame;
  readonly columns: readonly PaperRect[];
  readonly largestType: number;
  /** The smallest it may be set in to save pages; 1, the plan's own, unless said. */
  readonly leastType?: number;
  /** True: columns are filled one after the other to the end, as strips that are read folded. */
  readonly fillsColumns?: boolean;
}

const MOST_PAGES = 200;
const TYPE_STEP = 0.04;
/** Columns of the last page are levelled in so many halvings: to less than a line of text. */
const LEVELLINGS = 7;

const columnsAt = (columns: readonly PaperRect[], type: number, heightRatio = 1): readonly PaperRect[] =>
  columns.map((c) => ({
    x: c.x / type,
    y: c.y / type,
    widthMm: c.widthMm / type,
    heightMm: (c.heightMm / type) * heightRatio,
  }));

interface Page {
  readonly placed: readonly PlacedBlock[];
  readonly blocks: readonly Block[];
}

/** Pages of blocks in type of one size; each page keeps the blocks it began with, so that it can be set again. */
function pagesAt(blocks: readonly Block[], columns: readonly PaperRect[]): readonly Page[] {
  const pages: Page[] = [];
  let left = blocks;
  while (left.length > 0 && pages.length < MOST_PAGES) {
    const flowed = flowBlocks(left, columns, words.continued);
    pages.push({ placed: flowed.placed, blocks: left });
    left = flowed.left;
  }
  return pages;
}

/** The last page with its columns brought to one height, the least that still holds everything. */
function levelled(page: Page, columns: readonly PaperRect[], type: number): Page {
  let [over, fits] = [0, 1];
  let best = page;
  for (let i = 0; i < LEVELLINGS; i++) {
    const ratio = (over + fits) / 2;
    const flowed = flowBlocks(page.blocks, columnsAt(columns, type, ratio), words.continued);
    if (flowed.left.length > 0) {
      over = ratio;
    } else {
      fits = ratio;
      best = { ...page, placed: flowed.placed };
    }
  }
  return best;
}

/**
 * Pages of flowing tables on one paper: as few as the smallest type gives, in the largest type that needs no more of
 * them, the columns of the last page level unless the layout fills them.
 */
export function flowPages(
  key: string,
  title: string,
  blocks: readonly Block[],
  paper: Paper,
  layout: PageLayout,
): readonly BarePage[] {
  const set = blocks.map(rememberParts);
  const leastType = layout.leastType ?? 1;
  const smallest = pagesAt(set, columnsAt(layout.columns, leastType));
  let type = layout.largestType;
  let pages = pagesAt(set, columnsAt(layout.columns, type));
  while (pages.length > smallest.length && type > leastType) {
    type = Math.max(leastType, type - TYPE_STEP);
    pages = type === leastType ? smallest : pagesAt(set, columnsAt(layout.columns, type));
  }
  const last = layout.fillsColumns ? -1 : pages.length - 1;
  return pages.map((page, i) => ({
    key: `${key}-${i + 1}`,
    title,
    paper,
    scaleDenominator: null,
    scaleText: words.noScale,
    items: enlarge(drawPlaced((i === last ? levelled(page, layout.columns, type) : page).placed), type),
    frame: (text) => frameItems(layout.frame, text),
  }));
}
