import type { Design } from '../design';
import type { Box } from '../geometry';
import { printer } from '../units';
import { drawingWords as words } from '../words';
import { type Block, type Flowed, leftOver, type PaperRect, placeWhole, rememberParts } from './blocks';
import { BREAK_MARGIN_MM, breakLineItems } from './breakLines';
import { type DetailKey, detailStrip } from './details';
import { hasManyRuns } from './figures';
import { frameItems, sheetFrame } from './frame';
import { keyMapBlock } from './keyMap';
import { letterPlan } from './lettering';
import type { Paper } from './papers';
import {
  footItems,
  groundRoom,
  grownBox,
  planBox,
  planViewItems,
  viewOf,
  withFences,
  withGaps,
} from './planPage';
import { chooseScale, scaleLabel } from './scales';
import type { BarePage } from './sheetSet';
import { stampBarItems } from './stamp';
import { legendBlock } from './tables/legendBlock';
import { careBlock } from './tables/noteBlocks';
import { takeoffBlock } from './tables/partsTables';
import { assemblyBlock, pipeBlock, readingBlock, zoneBlock } from './tables/supplyTables';
import { type Ties, tiesOf } from './ties';
import { matchedSides, matchLineItems, type Tile, tilesOf, tileWindow } from './tiles';
import { LEAST_TICK_GAP_MM } from './water';

/** Plan pages, with what found room on them and what is left for other pages. */
export interface PlanSheets {
  readonly pages: readonly BarePage[];
  readonly placed: readonly string[];
  readonly left: readonly Block[];
  readonly details: readonly DetailKey[];
  readonly ties: Ties;
}

const LEAST_ROW_MM = 1.8;
const EMPTY: Box = { minX: 0, minY: 0, maxX: 10, maxY: 10 };

/** Edge lengths and names of the ground are a convenience; all else that finds no clear paper is counted on the sheet. */
const MAY_BE_LEFT_OUT = /^(edge|corner|name)-/;

/** Clear paper wanted round the plan for lettering: more on a large sheet. */
const letteringMm = (paper: Paper): number => (paper.widthMm < 350 ? 12 : 17);

/** The blocks that fit beside a plan; those that must stand there come before all others, in the order of the list. */
function placeWithMusts(
  blocks: readonly Block[],
  columns: readonly PaperRect[],
  musts: readonly string[],
): Flowed {
  const ordered = (chosen: ReadonlySet<Block>): readonly Block[] => blocks.filter((b) => chosen.has(b));
  let chosen: ReadonlySet<Block> = new Set(blocks.filter((block) => musts.includes(block.key)));
  const leastLeft = leftOver(ordered(chosen), columns).length;
  for (const block of blocks) {
    const more = new Set([...chosen, block]);
    if (leftOver(ordered(more), columns).length <= leastLeft) chosen = more;
  }
  const flowed = placeWhole(ordered(chosen), columns);
  return { items: flowed.items, left: [...blocks.filter((block) => !chosen.has(block)), ...flowed.left] };
}

const inset = (rect: PaperRect, byMm: number): PaperRect => ({
  x: rect.x + byMm,
  y: rect.y + byMm,
  widthMm: rect.widthMm - 2 * byMm,
  heightMm: rect.heightMm - 2 * byMm,
});

interface PlanChoice {
  readonly denominator: number;
  readonly tiles: readonly Tile[];
  readonly box: Box;
}

/** Scale and tiles: one page where everything fits, else as many as it takes at the chosen scale. */
function choosePlan(design: Design, room: PaperRect, paper: Paper, wanted: number | null): PlanChoice {
  const box = planBox(design) ?? EMPTY;
  const seen = withFences(design, box);
  const rows = design.beds.map((bed) => bed.layout.rowSpacingM).filter((m) => m > 0);
  const around = 2 * letteringMm(paper);
  const chosen = chooseScale({
    system: design.plan.display.units,
    widthM: box.maxX - box.minX,
    heightM: box.maxY - box.minY,
    roomWidthMm: room.widthMm - around,
    roomHeightMm: room.heightMm - around * 0.4,
    rowSpacingM: rows.length > 0 ? Math.min(...rows) : 0.45,
    leastRowMm: LEAST_ROW_MM,
  });
  const denominator = wanted ?? chosen.scale.denominator;
  const fitsAll = (b: Box): boolean =>
    ((b.maxX - b.minX) * 1000) / denominator <= room.widthMm - 6 &&
    ((b.maxY - b.minY) * 1000) / denominator <= room.heightMm - 6;
  if (fitsAll(seen)) return { denominator, box: seen, tiles: [] };
  return { denominator, box, tiles: fitsAll(box) ? [] : tilesOf(design, box, room, denominator) };
}

/** Every page that shows the plan, with its tables and the strip of details. */
export function drawPlanSheets(
  design: Design,
  paper: Paper,
  wantedDenominator: number | null | undefined,
  onPlanPage: () => void = () => {},
): PlanSheets {
  const print = printer(design.plan.display.units);
  const frame = sheetFrame(paper);
  const blocked = design.findings.some((f) => f.severity === 'stop');
  const field = blocked ? { ...frame.field, heightMm: frame.field.heightMm - 7 } : frame.field;
  const room = groundRoom(field);
  const { denominator, tiles, box } = choosePlan(design, room, paper, wantedDenominator ?? null);
  const ties = tiesOf(design, grownBox(box, letteringMm(paper) * 0.6, denominator));
  const emitterMm = Math.min(
    ...design.beds.map((bed) => (bed.choice.dripline.emitterSpacingM * 1000) / denominator),
    99,
  );
  const showsTicks = emitterMm >= LEAST_TICK_GAP_MM;
  const isTiled = tiles.length > 0;
  const legend = legendBlock(design, {
    showsTicks,
    isTiled,
    hasRowMarks: showsTicks && (isTiled || design.beds.some(hasManyRuns)),
  });
  const care = careBlock(design);
  const tables = [
    zoneBlock(design, print),
    readingBlock(design, print),
    legend,
    care,
    pipeBlock(design, print),
    assemblyBlock(design, print),
    takeoffBlock(design, print),
  ];
  const strip = frame.strip ? detailStrip(design, print, frame.strip) : { items: [], drawn: [] };
  const onPage = (
    tile: Tile | null,
    first: boolean,
  ): { page: BarePage; left: readonly Block[]; placed: string[] } => {
    const window = tile ? tileWindow(room) : room;
    const view = viewOf(tile?.box ?? box, window, denominator);
    const seen = tile ? window : inset(window, BREAK_MARGIN_MM);
    const drawn = [
      planViewItems(design, view, seen),
      ...breakLineItems(design.plan, view, seen, tile ? matchedSides(tile, tiles) : undefined),
    ];
    const lettering = letterPlan(design, view, window, drawn, ties, tile !== null);
    const map = tiles.length > 0 ? [keyMapBlock(design, tiles, tile)] : [];
    const wanted = first ? [...map, ...tables] : [...map, legend, care];
    const beside = placeWithMusts(wanted.map(rememberParts), frame.columns, ['key-map', 'legend', 'care']);
    const title = tile ? words.pages.planPart(tile.label) : words.pages.plan;
    return {
      placed: wanted
        .map((block) => block.key)
        .filter((key) => !beside.left.some((block) => block.key === key)),
      left: first ? beside.left : [],
      page: {
        key: tile ? `plan-${tile.label}` : 'plan',
        title,
        paper,
        scaleDenominator: denominator,
        scaleText: scaleLabel(denominator, design.plan.display.units),
        items: [
          ...withGaps(design, view, drawn, lettering.gaps),
          ...lettering.items,
          ...(tile ? matchLineItems(tile, tiles, window) : []),
          ...footItems(field, denominator, {
            system: design.plan.display.units,
            bearingRad: design.plan.georeference?.bearingRad ?? 0,
            leftOutCount: lettering.leftOut.filter((key) => !MAY_BE_LEFT_OUT.test(key)).length,
          }),
          ...(blocked ? stampBarItems(field.x, field.y + field.heightMm, field.widthMm) : []),
          ...beside.items,
          ...strip.items,
        ],
        frame: (text) => frameItems(frame, text),
      },
    };
  };
  const made = (tiles.length > 0 ? tiles : [null]).map((tile, i) => {
    const sheet = onPage(tile, i === 0);
    onPlanPage();
    return sheet;
  });
  return {
    pages: made.map((m) => m.page),
    placed: made.flatMap((m) => m.placed),
    left: made.flatMap((m) => m.left).filter((block) => block.key !== 'key-map'),
    details: strip.drawn,
    ties,
  };
}
