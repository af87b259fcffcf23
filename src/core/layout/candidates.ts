import type { MultiPolygon, Polygon } from '../geometry';
import { bentSketch } from './bentLoop';
import { centreRowSketch } from './centreRowLoop';
import { cheapest, loopCount, watersAsAsked } from './choosing';
import { contourSketch, ribbonSketch } from './contour';
import { followLast } from './followed';
import { wateringGoal } from './goal';
import { isLooped, type Judged, type JudgingGround, judge } from './judging';
import { lateralSketches } from './laterals';
import { CLOSER, closerLoop, loopAnotherWay, loopSketches, otherWays, wholeLoop } from './loopSketches';
import { keyOf, type Sketch } from './sketch';
import { type Spur, spursFor, withSpurs } from './spurs';
import { stripSketches } from './strips';
import { withTreeRings } from './treeRings';
import type { LayoutInput, LayoutKind } from './types';

/** A layout that waters less than this, or leaves a wider gap, is tried again with spurs. */
const DRY_RATIO = 0.995;
const DRY_GAP_ROWS = 0.8;

/** A preview that waters less than this is tried with spurs. */
const BARE_RATIO = 0.97;

/** Nor is one shown that waters less than this: other ways are tried first. */
const SHOWABLE_RATIO = 0.93;

/** Where fields leave more dry than this, one loop beyond the length limit is tried too. */
const POOR_RATIO = 0.985;
/** In a finished design that is what falls this much short of the bed's goal: coverage is measured on another grid than tubing was mended on. */
const SHORT_OF_GOAL = 0.004;

/** Where all spurs together fail, this many are tried one by one. */
const MOST_SINGLE_SPURS = 4;

/** Other ways tried where no loop passed the check. */
const MOST_OTHER_WAYS = { preview: 3, finished: 5 };

/** Every layout tried on one piece of ground, judged, with the router's reason where it found no loop. */
export interface PieceCandidates {
  readonly judged: readonly Judged[];
  readonly refused: string | null;
}

/** Tries the layouts that suit a piece of ground and judges each over it. */
export function candidatesFor(
  piece: Polygon,
  usable: MultiPolygon,
  input: LayoutInput,
  idPrefix: string,
  trees: LayoutInput['trees'],
): PieceCandidates {
  const ground = { idPrefix, usable, trees };
  const followed = followLast(piece, input, ground);
  if (followed) return { judged: [followed], refused: null };
  const strips = stripSketches(piece, input, input.rowSpacingM);
  const loops = loopSketches(piece, input);
  const directionRad =
    loops.sketches[0]?.directionRad ?? strips[0]?.directionRad ?? input.rowDirectionRad ?? 0;
  const laterals = wantsMore(input, 'laterals')
    ? lateralSketches(piece, input, input.rowSpacingM, directionRad)
    : [];
  const contours = wantsMore(input, 'contour')
    ? [
        contourSketch(piece, input, input.rowSpacingM),
        ribbonSketch(piece, input, input.rowSpacingM),
        bentSketch(piece, input, input.quality === 'preview' ? 'preview' : 'quick'),
      ]
    : [];
  const centreRows = wantsMore(input, 'loop-centre-row')
    ? [directionRad, (directionRad + Math.PI / 2) % Math.PI].flatMap((angleRad, index) => {
        const isAsked = index === 0 || (input.rowDirectionRad === null && input.slope === null);
        const found = isAsked ? centreRowSketch(piece, input, input.rowSpacingM, angleRad) : null;
        return found ? [index === 0 ? found : { ...found, key: `${found.key}-across` }] : [];
      })
    : [];
  const sketches: Sketch[] = [
    ...strips,
    ...loops.sketches,
    ...centreRows,
    ...contours.filter((sketch) => sketch !== null),
    ...laterals,
  ];
  const asAsked = judgeAll(sketches, piece, input, ground);
  const judged = [...asAsked, ...closerRows(asAsked, piece, input, ground)];
  const bestRatio = bestCoverage(judged);
  if (bestRatio >= poorRatio(input)) return { judged, refused: loops.refused ?? null };
  const others =
    bestRatio > SHOWABLE_RATIO && input.quality === 'preview'
      ? []
      : waysUntilWet(piece, input, ground, bestRatio);
  const isRescued = bestRatio > 0 || others.length > 0;
  const whole = isRescued || input.quality === 'preview' ? null : wholeLoop(piece, input);
  const lastResort = whole ? [judgeMended(whole, piece, input, ground)] : [];
  return { judged: [...judged, ...others, ...lastResort], refused: loops.refused ?? null };
}

/** Less watered than this, other ways are tried. */
const poorRatio = (input: LayoutInput): number =>
  input.quality === 'finished'
    ? Math.max(POOR_RATIO, wateringGoal(input).coveredRatio - SHORT_OF_GOAL)
    : POOR_RATIO;

/**
 * Where the cheapest loop leaves a little dry between its bends and the edge, the same loop with rows somewhat closer: tubing that
 * costs less than dry corners do. Rows closer together take more tubing all over: where dry ground makes up next to nothing of the
 * cost they cannot be the fitter.
 */
function closerRows(
  judged: readonly Judged[],
  piece: Polygon,
  input: LayoutInput,
  ground: JudgingGround,
): Judged[] {
  if (input.quality === 'preview') return [];
  const best = cheapest(judged);
  if (best?.alternative.layout !== 'loop') return [];
  const isAsked = input.chosenAlternative === CLOSER || input.previous?.key === CLOSER;
  if (watersAsAsked(best) && !isAsked) return [];
  const closer = closerLoop(piece, input, best.alternative.directionRad);
  return closer === null ? [] : [judgeMended(closer, piece, input, ground)];
}

/** The most ground that a valid looped layout waters, as a ratio; 0 where there is none. Where one loop will do, those of one loop alone count. */
function bestCoverage(judged: readonly Judged[]): number {
  const valid = judged.filter(({ alternative }) => alternative.valid && isLooped(alternative.layout));
  const ofOne = valid.filter((one) => loopCount(one) === 1);
  return Math.max(
    0,
    ...(ofOne.length > 0 ? ofOne : valid).map(({ alternative }) => alternative.coverage.coveredRatio),
  );
}

/**
 * Judges every sketch; those that might still win get spurs into the ground they leave dry. A sketch that would be dearer
 * than the best even if nothing of it were dry is left as it is, unless the designer named it.
 */
function judgeAll(
  sketches: readonly Sketch[],
  piece: Polygon,
  input: LayoutInput,
  ground: JudgingGround,
): Judged[] {
  const raw = sketches.map((drawn) => {
    const sketch = withTreeRings(drawn, ground.trees);
    return { sketch, judged: judge(keyOf(sketch), [sketch], input, ground) };
  });
  if (input.quality === 'preview') return raw.map((one) => mendPreview(one, raw, piece, input, ground));
  const costsM = raw.flatMap(({ judged }) =>
    isLooped(judged.alternative.layout) ? [judged.alternative.costM] : [],
  );
  let bestM = Math.min(...costsM);
  const cheapestFirst = [...raw].sort(
    (one, other) => one.judged.alternative.costM - other.judged.alternative.costM,
  );
  const mended = new Map<Sketch, Judged>();
  for (const { sketch, judged } of cheapestFirst) {
    const { key, costM } = judged.alternative;
    if (costM - judged.dryCostM >= bestM && key !== input.chosenAlternative) continue;
    const wetter = mendDry(judged, sketch, piece, input, ground);
    mended.set(sketch, wetter);
    if (isLooped(sketch.layout)) bestM = Math.min(bestM, wetter.alternative.costM);
  }
  return raw.map(({ sketch, judged }) => mended.get(sketch) ?? judged);
}

/** In a preview only the cheapest sketch gets spurs, and only where it would look bare without. */
function mendPreview(
  one: { readonly sketch: Sketch; readonly judged: Judged },
  all: readonly { readonly judged: Judged }[],
  piece: Polygon,
  input: LayoutInput,
  ground: JudgingGround,
): Judged {
  const { costM, coverage } = one.judged.alternative;
  const isCheapest = all.every((other) => other.judged.alternative.costM >= costM);
  if (!isCheapest || coverage.coveredRatio >= BARE_RATIO) return one.judged;
  return mendDry(one.judged, one.sketch, piece, input, ground);
}

/**
 * Other ways for ground that no loop so far waters well, or that no loop passed the check on: each that passes and waters
 * more than all before it, until one waters it well.
 */
function waysUntilWet(
  piece: Polygon,
  input: LayoutInput,
  ground: JudgingGround,
  bestRatioBefore: number,
): Judged[] {
  const found: Judged[] = [];
  let bestRatio = bestRatioBefore;
  const ways = otherWays(piece, input).slice(0, MOST_OTHER_WAYS[input.quality]);
  const mended = ways.map((way) => ({ way, quality: 'quick' as const }));
  // Mending takes most of the time of a route: a preview does with the first that passes without.
  const asLaid = input.quality === 'preview' ? ways.map((way) => ({ way, quality: 'preview' as const })) : [];
  for (const { way, quality } of [...asLaid, ...mended]) {
    if (bestRatio >= poorRatio(input)) break;
    const sketch = loopAnotherWay(piece, input, way, quality);
    const judged = sketch ? judgeMended(sketch, piece, input, ground) : null;
    if (!judged?.alternative.valid || judged.alternative.coverage.coveredRatio <= bestRatio) continue;
    bestRatio = judged.alternative.coverage.coveredRatio;
    found.push({ ...judged, alternative: { ...judged.alternative, key: `loop-way-${found.length + 1}` } });
    if (input.quality === 'preview' && bestRatio >= SHOWABLE_RATIO) break;
  }
  return found;
}

function judgeMended(drawn: Sketch, piece: Polygon, input: LayoutInput, ground: JudgingGround): Judged {
  const sketch = withTreeRings(drawn, ground.trees);
  return mendDry(judge(keyOf(sketch), [sketch], input, ground), sketch, piece, input, ground);
}

/** Where a looped layout leaves tails dry, the same with spurs into them, if that is fitter. */
function mendDry(
  judged: Judged,
  sketch: Sketch,
  piece: Polygon,
  input: LayoutInput,
  ground: JudgingGround,
): Judged {
  const { valid, coverage } = judged.alternative;
  const isDry = coverage.coveredRatio < DRY_RATIO || coverage.maxGapM > DRY_GAP_ROWS * sketch.rowSpacingM;
  if (!valid || !isDry || !isLooped(sketch.layout)) return judged;
  const spurs = spursFor(sketch, piece, input, coverage.gaps);
  if (spurs.length === 0) return judged;
  const withThese = (some: readonly Spur[]): Judged =>
    judge(keyOf(sketch), [withSpurs(sketch, some)], input, ground);
  const all = withThese(spurs);
  if (all.alternative.costM < judged.alternative.costM) return all;
  if (spurs.length === 1) return judged;
  let best = judged;
  let kept: readonly Spur[] = [];
  for (const spur of spurs.slice(0, MOST_SINGLE_SPURS)) {
    const next = withThese([...kept, spur]);
    if (next.alternative.costM >= best.alternative.costM) continue;
    best = next;
    kept = [...kept, spur];
  }
  return best;
}

/** Layouts beside the loop are tried in a finished design, and in a preview where one of them was asked for or taken last. */
function wantsMore(input: LayoutInput, layout: LayoutKind): boolean {
  return input.quality === 'finished' || input.layout === layout || isNamed(input, layout);
}

function isNamed(input: LayoutInput, layout: string): boolean {
  return (
    input.chosenAlternative?.startsWith(layout) === true || input.previous?.key.startsWith(layout) === true
  );
}
