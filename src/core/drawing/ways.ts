import type { Design, WaySide, WaysCompared } from '../design';
import { boxOf, type PaperView, planToPaper, uniteBoxes } from '../geometry';
import { printer } from '../units';
import { wayLines, waysWords, drawingWords as words } from '../words';
import { blockHeightMm, drawPlaced, flowBlocks, LINE_MM, type PaperRect } from './blocks';
import { frameItems, tableFrame } from './frame';
import { PAPERS, type PaperKey, usualPaper } from './papers';
import { lineItem, pathItem, polylineSteps, SIZE, stroke, textItem, WEIGHT } from './pen';
import { planBox, planViewItems, viewOf } from './planPage';
import { chooseScale, scaleLabel } from './scales';
import { finishPages, LAYERS } from './sheetSet';
import { tableBlock } from './table';
import { wrapText } from './text';
import type { DrawingItem, DrawingList } from './types';

const TITLE_MM = 8;
const NOTE_MM = 16;
const BAND_MM = 1.5;

/** Names of the two ways as their drawings and columns are headed. */
export interface WayNames {
  readonly first: string;
  readonly second: string;
}

/** Broad bands under the tubing that the other way does not have, each with its line drawn again over it. */
function bands(side: WaySide, view: PaperView): readonly DrawingItem[] {
  const paths = side.stretches.map((stretch) => ({
    of: stretch.runId,
    steps: polylineSteps(stretch.path.map((p) => planToPaper(p, view))),
  }));
  const band = stroke('rule', BAND_MM, { cap: 'round', join: 'round' });
  return [
    ...paths.map(({ of, steps }) => pathItem({ layer: 'findings', of }, steps, { stroke: band })),
    ...paths.map(({ of, steps }) =>
      pathItem({ layer: 'tubing', of }, steps, { stroke: stroke('ink', WEIGHT.bold) }),
    ),
  ];
}

function regroupedText(design: Design, compared: WaysCompared): string {
  const names = design.beds.filter((bed) => compared.regroupedBeds.includes(bed.id)).map((bed) => bed.name);
  return names.length === 0 ? waysWords.sameGroups : waysWords.regrouped(names.join(', '));
}

function half(
  design: Design,
  side: WaySide,
  compared: WaysCompared,
  name: string,
  room: PaperRect,
  view: PaperView,
): readonly DrawingItem[] {
  const print = printer(design.plan.display.units);
  const onlyHere = side.runs.filter((run) => run.kind === 'only-here').length;
  const away = side.runs.reduce((sum, run) => sum + run.awayM, 0);
  const notes = [
    waysWords.changed(onlyHere, side.runs.length - onlyHere, print.tubing(away)),
    regroupedText(design, compared),
  ];
  const lines = notes.flatMap((note) => wrapText(note, 'narrow', SIZE.text, room.widthMm - 6));
  const top = room.y + room.heightMm - NOTE_MM + 4;
  return [
    textItem({ layer: 'tables' }, { x: room.x + 3, y: room.y + 5.5 }, name, {
      font: 'narrow-semibold',
      sizeMm: SIZE.head,
    }),
    planViewItems(design, view, drawingRoom(room)),
    ...bands(side, view),
    ...lines.slice(0, 3).map((line, i) =>
      textItem({ layer: 'tables' }, { x: room.x + 3, y: top + i * LINE_MM * 1.15 }, line, {
        sizeMm: SIZE.text,
      }),
    ),
  ];
}

const drawingRoom = (room: PaperRect): PaperRect => ({
  ...room,
  y: room.y + TITLE_MM,
  heightMm: room.heightMm - TITLE_MM - NOTE_MM,
});

function tableItems(
  design: Design,
  compared: WaysCompared,
  names: WayNames,
  at: PaperRect,
): readonly DrawingItem[] {
  return drawPlaced(flowBlocks([waysTable(design, compared, names)], [at], words.continued).placed);
}

function waysTable(design: Design, compared: WaysCompared, names: WayNames) {
  const print = printer(design.plan.display.units);
  return tableBlock({
    key: 'ways',
    title: waysWords.title,
    columns: [
      { title: waysWords.figure },
      { title: names.first, align: 'end' },
      { title: names.second, align: 'end' },
      { title: waysWords.difference, align: 'end' },
    ],
    rows: wayLines(compared.first.figures, compared.second.figures, print).map((line) => [
      line.name,
      line.first,
      line.second,
      line.difference,
    ]),
  });
}

/** One page: both ways at one scale side by side, what changed marked on each, and the table of figures under them. */
export function drawWays(
  first: Design,
  second: Design,
  compared: WaysCompared,
  names: WayNames,
  paperKey: PaperKey | null = null,
): DrawingList {
  const { plan } = first;
  const system = plan.display.units;
  const paper = PAPERS[paperKey ?? plan.display.paper ?? usualPaper(system)];
  const { frame } = tableFrame(paper);
  const { field } = frame;
  const tableMm = Math.min(150, field.widthMm - 10);
  const footMm = blockHeightMm(waysTable(first, compared, names), tableMm) + 8;
  const [left, right] = [0, 1].map((i) => ({
    x: field.x + (i * field.widthMm) / 2,
    y: field.y,
    widthMm: field.widthMm / 2,
    heightMm: field.heightMm - footMm,
  })) as [PaperRect, PaperRect];
  const box = uniteBoxes([planBox(first), planBox(second)]) ?? boxOf([{ x: 0, y: 0 }])!;
  const room = drawingRoom(left);
  const { scale } = chooseScale({
    system,
    widthM: box.maxX - box.minX,
    heightM: box.maxY - box.minY,
    roomWidthMm: room.widthMm - 6,
    roomHeightMm: room.heightMm - 6,
    rowSpacingM: 0.45,
    leastRowMm: 0,
  });
  const viewIn = (half: PaperRect): PaperView => viewOf(box, drawingRoom(half), scale.denominator);
  const rule = stroke('ink', WEIGHT.thin);
  const footY = field.y + field.heightMm - footMm;
  const items: readonly DrawingItem[] = [
    ...half(first, compared.first, compared, names.first, left, viewIn(left)),
    ...half(second, compared.second, compared, names.second, right, viewIn(right)),
    lineItem({ layer: 'frame' }, { x: right.x, y: field.y }, { x: right.x, y: footY }, rule),
    lineItem({ layer: 'frame' }, { x: field.x, y: footY }, { x: field.x + field.widthMm, y: footY }, rule),
    ...tableItems(first, compared, names, {
      x: field.x + 5,
      y: footY + 4,
      widthMm: tableMm,
      heightMm: footMm,
    }),
    ...wrapText(
      waysWords.marked(printer(system).small(compared.toleranceM)),
      'narrow',
      SIZE.text,
      Math.max(40, field.widthMm - tableMm - 20),
    ).map((line, i) =>
      textItem({ layer: 'tables' }, { x: field.x + tableMm + 14, y: footY + 8 + i * 4 }, line),
    ),
  ];
  const pages = finishPages(
    first,
    [
      {
        key: 'ways',
        title: waysWords.title,
        paper,
        scaleDenominator: scale.denominator,
        scaleText: scaleLabel(scale.denominator, system),
        items,
        frame: (text) => frameItems(frame, text),
      },
    ],
    '',
  );
  return {
    title: plan.project.title,
    author: plan.project.designer,
    subject: waysWords.title,
    keywords: words.keywords,
    layers: LAYERS,
    pages,
  };
}
