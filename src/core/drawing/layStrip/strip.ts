import type { Design, DesignedBed } from '../../design';
import { type LayScript, type LayStep, layScript, type RunScript, type SpotPair } from '../../takeoff';
import type { Printer } from '../../units';
import { countText, layWords, sayLayStep, tapeText } from '../../words';
import { type Block, LINE_MM, type Part, paragraphParts, stackedPart } from '../blocks';
import { markedRuns } from '../figures';
import { lineItem, SIZE, stroke, textItem, WEIGHT } from '../pen';
import { wrapText } from '../text';
import { sketchOfBed } from './sketchOfBed';
import { type NamedSpot, spotsNear } from './spots';

const MARK = { layer: 'tables' };
const NUMBER_MM = 6.4;

/** The tape points of a script, numbered in the order in which its pairs use them. */
const numbered = (script: LayScript<NamedSpot>): readonly NamedSpot[] => [
  ...new Set(script.pairs.flatMap((pair) => [pair.first, pair.second])),
];

interface Strip {
  readonly bed: DesignedBed;
  readonly script: LayScript<NamedSpot>;
  readonly spots: readonly NamedSpot[];
  readonly marks: ReadonlyMap<string, string>;
  readonly print: Printer;
}

function tieText(step: LayStep, { script, spots, print }: Strip): string {
  if (!step.tie) return '';
  const pair = script.pairs[step.tie.pair]!;
  return layWords.tie(
    spots.indexOf(pair.first) + 1,
    tapeText(step.tie.firstM, print),
    spots.indexOf(pair.second) + 1,
    tapeText(step.tie.secondM, print),
    pair.side === 'both' ? step.tie.side : '',
  );
}

/** Step, sentence; under it the count at which it ends, and the two readings. */
function stepPart(step: LayStep, number: number, run: RunScript, strip: Strip, widthMm: number): Part {
  const sentence = sayLayStep(step, strip.print, (id) => strip.marks.get(id) ?? '');
  const lines = wrapText(sentence, 'narrow-semibold', SIZE.note, widthMm - NUMBER_MM);
  const count = run.emitters === 0 ? '' : countText(step, strip.print);
  const tie = tieText(step, strip);
  const below = count !== '' || tie !== '' ? 1 : 0;
  const heightMm = (lines.length + below) * LINE_MM + 1.1;
  return {
    heightMm,
    draw: (x, y) => [
      textItem(MARK, { x, y: y + 2.5 }, String(number), { font: 'narrow-semibold', sizeMm: SIZE.note }),
      ...lines.map((line, i) =>
        textItem(MARK, { x: x + NUMBER_MM, y: y + 2.5 + i * LINE_MM }, line, {
          font: 'narrow-semibold',
          sizeMm: SIZE.note,
        }),
      ),
      textItem(MARK, { x: x + NUMBER_MM, y: y + 2.5 + lines.length * LINE_MM }, count, { sizeMm: SIZE.note }),
      textItem(MARK, { x: x + widthMm, y: y + 2.5 + lines.length * LINE_MM }, tie, {
        sizeMm: SIZE.note,
        anchor: 'end',
      }),
      lineItem(
        MARK,
        { x, y: y + heightMm - 0.5 },
        { x: x + widthMm, y: y + heightMm - 0.5 },
        stroke('rule', WEIGHT.hair),
      ),
    ],
  };
}

function sideText(pair: SpotPair<NamedSpot>, spots: readonly NamedSpot[]): string {
  const [first, second] = [spots.indexOf(pair.first) + 1, spots.indexOf(pair.second) + 1];
  return pair.side === 'both'
    ? layWords.sideEach(first, second)
    : layWords.sideLine(first, second, pair.side);
}

function partsOf(strip: Strip, widthMm: number): readonly Part[] {
  const { bed, script, spots } = strip;
  const sketch = sketchOfBed(bed, script, widthMm);
  const texts =
    spots.length === 0
      ? [layWords.noSpots]
      : [
          layWords.how,
          ...spots.map((spot, i) => layWords.spot(i + 1, spot.what)),
          ...script.pairs.map((pair) => sideText(pair, spots)),
        ];
  return [
    ...(sketch ? [sketch] : []),
    ...texts.flatMap((text) => paragraphParts(MARK, text, widthMm)),
    ...script.runs.flatMap((run) => runParts(run, strip, widthMm)),
  ];
}

/** One piece of tubing: its name over its steps, never alone at the foot of a column. A plain straight piece is its name alone. */
function runParts(run: RunScript, strip: Strip, widthMm: number): readonly Part[] {
  const moves = run.steps.filter(({ kind }) => kind !== 'begin' && kind !== 'end');
  const isOneStraight =
    run.emitters === 0 && moves.every(({ kind }) => kind === 'straight') && moves.length === 1;
  const name = paragraphParts(
    MARK,
    layWords.run(
      strip.marks.get(run.runId) ?? '',
      layWords.roles[run.role],
      strip.print.tubing(run.lengthM),
      run.emitters,
      isOneStraight,
    ),
    widthMm,
    'narrow-semibold',
    1,
  );
  if (isOneStraight) return [stackedPart(name)];
  const [first, ...rest] = run.steps.map((step, i) => stepPart(step, i + 1, run, strip, widthMm));
  return [stackedPart(first ? [...name, first] : name), ...rest];
}

/** The order of laying of every routed bed, one block a bed. */
export function layBlocks(design: Design, print: Printer): readonly Block[] {
  return design.beds
    .filter((bed) => bed.layout.status === 'routed')
    .map((bed): Block => {
      const script = layScript({
        layout: bed.layout,
        cuts: design.takeoff.cuts,
        spots: spotsNear(design, bed),
      });
      const strip: Strip = {
        bed,
        script,
        spots: numbered(script),
        marks: new Map(markedRuns(bed).map(({ run, mark }) => [run.id, mark])),
        print,
      };
      return {
        key: `lay-${bed.id}`,
        title: layWords.bed(bed.name),
        head: () => [],
        parts: (widthMm) => partsOf(strip, widthMm),
      };
    });
}
