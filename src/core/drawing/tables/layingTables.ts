import type { Design } from '../../design';
import type { Printer } from '../../units';
import { sheetText as words } from '../../words';
import { alongsideOf } from '../alongside';
import { beginText } from '../annotations';
import { type Block, gapPart, type Part, paragraphParts } from '../blocks';
import { runFigures } from '../figures';
import { pathItem, rectSteps, SIZE, stroke, textItem, WEIGHT } from '../pen';
import { tableBlock } from '../table';
import { measureText } from '../text';
import type { Ties } from '../ties';

/** Every run with what the plan says of it, so that nothing hangs on a label finding room. */
export function runBlock(design: Design, print: Printer): Block {
  const { heads } = words;
  const begins = new Map(
    design.beds.map((bed) => [bed.id, beginText(design.plan, bed, alongsideOf(design.plan, bed))]),
  );
  const runs = runFigures(design);
  return tableBlock({
    key: 'runs',
    title: words.tables.runs,
    flexible: 1,
    columns: [
      { title: heads.run, bold: true },
      { title: heads.bed },
      { title: heads.length, align: 'end' },
      { title: heads.emitters, align: 'end' },
      { title: heads.flow, align: 'end', water: true },
      { title: heads.lowest, align: 'end', water: true },
      { title: heads.spacing, align: 'end' },
    ],
    rows: runs.map((r) => [
      r.mark,
      r.bed.name,
      print.tubing(r.run.lengthM),
      String(r.run.emittersM.length),
      r.flowM3s === null ? '' : print.flow(r.flowM3s),
      r.lowestHeadM === null ? '' : print.pressure(r.lowestHeadM),
      print.small(r.bed.layout.rowSpacingM),
    ]),
    notes: runs.map((r, i) => (runs[i - 1]?.bed.id === r.bed.id ? '' : (begins.get(r.bed.id) ?? ''))),
  });
}

/** Ties of bed corners, stub-ups, valves, flush valves and sleeve ends to the two fixed points. */
export function tieBlock(ties: Ties, print: Printer): Block {
  const mark = { layer: 'tables' };
  const table = tableBlock({
    key: 'ties',
    title: words.tables.ties,
    columns: [
      { title: words.heads.point },
      { title: words.heads.from('F1'), align: 'end' },
      { title: words.heads.from('F2'), align: 'end' },
    ],
    rows: ties.ties.map((tie) => [tie.what, print.length(tie.firstM), print.length(tie.secondM)]),
  });
  const note = ties.fixed ? words.tiesNote(ties.fixed[0].what, ties.fixed[1].what) : words.noFixed;
  return {
    ...table,
    head: (widthMm) => (ties.fixed ? table.head(widthMm) : []),
    parts: (widthMm) => [...table.parts(widthMm), gapPart(1), ...paragraphParts(mark, note, widthMm)],
  };
}

const BAR_MM = 5.4;

/** What each piece is for: its run's mark, or the bed's plain tubing. */
const cutMarks = (design: Design): ReadonlyMap<string, string> =>
  new Map([
    ...design.beds.flatMap((bed) =>
      bed.layout.runs.map((run): readonly [string, string] => [run.id, words.plainPiece(bed.mark)]),
    ),
    ...runFigures(design).map((r): readonly [string, string] => [r.run.id, r.mark]),
  ]);

type Cut = Design['takeoff']['cuts'][number];
type BarPiece = Pick<Cut, 'lengthM' | 'spliceAtEnd'> & { readonly mark: string };

/** Narrower than this a piece of a bar is all outline, mm. */
const LEAST_PIECE_MM = 1.5;

/** Pieces as a bar shows them: neighbours of one mark too short to be told apart are one piece; the words below list each. */
function barPieces(
  cuts: readonly Cut[],
  marks: ReadonlyMap<string, string>,
  mmPerM: number,
): readonly BarPiece[] {
  const pieces: BarPiece[] = [];
  let joinsLast = false;
  for (const cut of cuts) {
    const mark = marks.get(cut.runId) ?? '';
    const isShort = cut.lengthM * mmPerM < LEAST_PIECE_MM;
    const last = pieces[pieces.length - 1];
    if (last && isShort && joinsLast && last.mark === mark)
      pieces[pieces.length - 1] = { ...last, lengthM: last.lengthM + cut.lengthM };
    else pieces.push({ mark, lengthM: cut.lengthM, spliceAtEnd: cut.spliceAtEnd });
    joinsLast = isShort && !cut.spliceAtEnd;
  }
  return pieces;
}

/** Kept at a tee until it is made, 1 ft: common practice, no source. */
const SPARE_AT_TEE_M = 0.3048;
/** Shorter pieces are told as a rule would measure them: 0.05 m of tubing is not 0.0 m. */
const SHORT_M = 0.6;

const pieceText = (print: Printer, lengthM: number): string =>
  lengthM < SHORT_M ? print.small(lengthM) : print.tubing(lengthM);

/** Rolls as bars to one scale, in the order to cut, each piece with its run and length. */
export function cutBlock(design: Design, print: Printer): Block {
  const mark = { layer: 'tables' };
  const { rolls, cuts } = design.takeoff;
  const marks = cutMarks(design);
  const longest = Math.max(1, ...rolls.map((r) => r.lengthM));
  const bar = (roll: (typeof rolls)[number], widthMm: number): Part => ({
    heightMm: BAR_MM + 1.4,
    draw: (x, y) => {
      const left = 22;
      const perM = (widthMm - left) / longest;
      const pieces = cuts.filter(
        (cut) => cut.rollNumber === roll.number && cut.driplineId === roll.driplineId,
      );
      let at = x + left;
      const drawn = barPieces(pieces, marks, perM).flatMap((cut) => {
        const wide = cut.lengthM * perM;
        const text = words.cutPiece(cut.mark, pieceText(print, cut.lengthM), cut.spliceAtEnd);
        const short = cut.mark;
        const shown = [text, short].find((t) => measureText(t, 'narrow', SIZE.note) < wide - 1.2);
        const middle = at + wide / 2;
        const items = [
          pathItem({ ...mark, group: 'cuts' }, rectSteps(at, y, wide, BAR_MM), {
            fill: 'bed',
            stroke: stroke('ink', WEIGHT.mid),
          }),
          ...(shown === undefined || shown === ''
            ? []
            : [textItem(mark, { x: middle, y: y + 3.5 }, shown, { sizeMm: SIZE.note, anchor: 'middle' })]),
        ];
        at += wide;
        return items;
      });
      const rest = x + left + roll.lengthM * perM - at;
      const leftText = words.leftOver(print.tubing(roll.leftM));
      return [
        textItem(mark, { x, y: y + 3.5 }, words.roll(roll.number), {
          font: 'narrow-semibold',
          sizeMm: SIZE.note,
        }),
        textItem(mark, { x: x + left - 1.5, y: y + 3.5 }, print.tubing(roll.lengthM), {
          sizeMm: SIZE.note,
          anchor: 'end',
        }),
        ...drawn,
        ...(rest > 0.2
          ? [
              pathItem({ ...mark, group: 'cuts' }, rectSteps(at, y, rest, BAR_MM), {
                stroke: stroke('ink', WEIGHT.hair, { dashMm: [1, 0.8] }),
              }),
            ]
          : []),
        ...(measureText(leftText, 'narrow', SIZE.note) < rest - 1.2
          ? [
              textItem(mark, { x: at + rest / 2, y: y + 3.5 }, leftText, {
                sizeMm: SIZE.note,
                anchor: 'middle',
                ink: 'ink-2',
              }),
            ]
          : []),
      ];
    },
  });
  return {
    key: 'cuts',
    title: words.tables.cuts,
    head: () => [],
    parts: (widthMm) => [
      ...rolls.map((roll) => bar(roll, widthMm)),
      ...paragraphParts(mark, words.cutsNote(print.small(SPARE_AT_TEE_M)), widthMm),
      ...rolls.flatMap((roll) => cutLines(design, roll, marks, print, widthMm)),
    ],
  };
}

/** The same cuts in words, so that short pieces are not lost in a bar; pieces alike that follow each other are counted. */
function cutLines(
  design: Design,
  roll: Design['takeoff']['rolls'][number],
  marks: ReadonlyMap<string, string>,
  print: Printer,
  widthMm: number,
): readonly Part[] {
  const pieces = design.takeoff.cuts
    .filter((cut) => cut.rollNumber === roll.number && cut.driplineId === roll.driplineId)
    .map((cut) =>
      words.cutPiece(marks.get(cut.runId) ?? cut.runId, pieceText(print, cut.lengthM), cut.spliceAtEnd),
    );
  const told = pieces.flatMap((piece, i) => {
    if (piece === pieces[i - 1]) return [];
    const next = pieces.findIndex((other, k) => k > i && other !== piece);
    return words.cutPieces((next < 0 ? pieces.length : next) - i, piece);
  });
  return paragraphParts(
    { layer: 'tables' },
    `${words.roll(roll.number)}: ${told.join(' · ')}`,
    widthMm,
    'narrow',
    0,
  );
}
