import type { Polygon } from '../geometry';
import { BENT, bentSketch } from './bentLoop';
import { centreRowSketch } from './centreRowLoop';
import { contourSketch, ribbonSketch } from './contour';
import { fieldsSketch, TURNED } from './fieldLoops';
import { expectedLengthM, routeGround, sketchOf } from './groundLoops';
import { type Judged, type JudgingGround, judge } from './judging';
import { lateralSketches } from './laterals';
import { leastSeparationM } from './loop';
import { ACROSS, CLOSER, CUT, closerInput, STRETCHED } from './loopSketches';
import { keyOf, type Sketch } from './sketch';
import { stripSketches } from './strips';
import { withTreeRings } from './treeRings';
import type { LayoutInput, RouteMemory } from './types';

/** What a dragged bed's layout must still water to be shown as it lay last; when the hand lets go all ways are compared again. */
const FOLLOWED_RATIO = 0.93;

/** Sketches of loops that can be laid again from what is remembered; those of one comb may be cut into several. */
const COMBS: ReadonlySet<string> = new Set([CLOSER, CUT]);
const LOOPS: ReadonlySet<string> = new Set(['loop', STRETCHED, ACROSS, ...COMBS, ...TURNED]);

/** Loops laid in another direction, or with rows closer than asked, where no plain one did. */
const OTHER_WAY = /^loop-way-/;

/**
 * While something is dragged: the layout taken last, laid again on the ground as it is now, a small part of the work of comparing
 * all ways. Null where it does not pass any more, waters too little, or another layout is wished for.
 */
export function followLast(piece: Polygon, input: LayoutInput, ground: JudgingGround): Judged | null {
  const { quality, previous, chosenAlternative, layout } = input;
  if (quality !== 'preview' || previous === null) return null;
  if (layout !== null && layout !== previous.layout) return null;
  if (chosenAlternative !== null && chosenAlternative !== previous.key) return null;
  for (const memory of [previous, ...otherLoops(previous, input)]) {
    const judged = followed(piece, input, ground, memory);
    if (judged !== null) return judged;
  }
  return loopAnew(piece, input, ground, previous);
}

/** A plain loop laid anew, the last topology where it is good among others: where no loop passes as it lay, one of its kind is still far sooner found than all kinds are compared. */
function loopAnew(
  piece: Polygon,
  input: LayoutInput,
  ground: JudgingGround,
  previous: RouteMemory,
): Judged | null {
  const isPlain = previous.topology !== undefined && previous.layout === 'loop';
  if (!isPlain || input.chosenAlternative !== null) return null;
  const found = routeGround(piece, input, 0, input.rowDirectionRad, 'preview');
  const isTooLong = found.loops.some((loop) => input.maxRunM !== null && loop.lengthM > input.maxRunM);
  return found.loops.length === 0 || isTooLong ? null : judgedWell(sketchOf('loop', found), input, ground);
}

/**
 * The loops nearest to the one taken last, which are laid where that one does not pass at one place of the hand: comparing all ways
 * there and then would hold the hand up for many times as long.
 */
function otherLoops(previous: RouteMemory, input: LayoutInput): readonly RouteMemory[] {
  if (previous.topology === undefined || previous.layout !== 'loop' || input.chosenAlternative !== null)
    return [];
  const keys = input.rowStretchRatio > 0 ? ['loop', STRETCHED] : ['loop'];
  return keys.filter((key) => key !== previous.key).map((key) => ({ ...previous, key }));
}

function followed(
  piece: Polygon,
  input: LayoutInput,
  ground: JudgingGround,
  memory: RouteMemory,
): Judged | null {
  const drawn = sameAgain(piece, input, memory);
  return drawn === null ? null : judgedWell(drawn, input, ground);
}

/** A sketch judged; null where it does not pass or waters too little to be shown. */
function judgedWell(drawn: Sketch, input: LayoutInput, ground: JudgingGround): Judged | null {
  const sketch = withTreeRings(drawn, ground.trees);
  const judged = judge(keyOf(sketch), [sketch], input, ground);
  const { valid, coverage } = judged.alternative;
  return valid && coverage.coveredRatio >= FOLLOWED_RATIO ? judged : null;
}

function sameAgain(piece: Polygon, input: LayoutInput, previous: RouteMemory): Sketch | null {
  const { key, directionRad } = previous;
  const spacingM = input.rowSpacingM;
  if (LOOPS.has(key) || OTHER_WAY.test(key)) return loopAgain(piece, input, previous);
  switch (previous.layout) {
    case 'contour':
      if (key === BENT) return bentSketch(piece, input, 'preview');
      return (key === 'contour' ? contourSketch : ribbonSketch)(piece, input, spacingM);
    case 'strip':
      return stripSketches(piece, input, spacingM).find((sketch) => sketch.key === key) ?? null;
    case 'loop-centre-row': {
      const found = centreRowSketch(piece, input, spacingM, directionRad);
      return found && { ...found, key };
    }
    case 'laterals':
      return (
        lateralSketches(piece, input, spacingM, directionRad).find((sketch) => keyOf(sketch) === key) ?? null
      );
    default:
      return null;
  }
}

/** The loop or loops taken last; null where they would be longer than allowed. */
function loopAgain(ground: Polygon, input: LayoutInput, previous: RouteMemory): Sketch | null {
  const { maxRunM } = input;
  const { key, directionRad, topology } = previous;
  const isLong = maxRunM !== null && expectedLengthM(ground, input) > maxRunM;
  if (topology === undefined)
    return isLong ? fieldsSketch(ground, input, directionRad, maxRunM, key, true) : null;
  if (isLong && !COMBS.has(key)) return null;
  const isOtherWay = OTHER_WAY.test(key);
  const closestM = Math.min(input.rowSpacingM, previous.rowSpacingM);
  const asked = isOtherWay
    ? { ...input, rowSpacingM: closestM }
    : key === CLOSER
      ? closerInput(input)
      : input;
  const rowsRad = isOtherWay ? directionRad : input.rowDirectionRad;
  const stretchRatio = key === STRETCHED ? input.rowStretchRatio : 0;
  const leastM = leastSeparationM(input.rowSpacingM, input.bendRadiusM);
  const found = routeGround(ground, asked, stretchRatio, rowsRad, 'following', leastM);
  const isTooLong = found.loops.some((loop) => maxRunM !== null && loop.lengthM > maxRunM);
  return found.loops.length === 0 || isTooLong ? null : sketchOf(key, found);
}
