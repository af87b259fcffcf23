import type { DesignedBed } from '../../design';
import {
  boxOf,
  type PaperPoint,
  type PaperView,
  planToPaper,
  pointAlong,
  simplifyPath,
} from '../../geometry';
import type { LayMove, LayScript, LayStep } from '../../takeoff';
import type { Part } from '../blocks';
import { hasManyRuns, markedRuns } from '../figures';
import { pathItem, polylineSteps, SIZE, stroke, textItem, WEIGHT } from '../pen';
import { measureText } from '../text';
import type { DrawingItem, Ink } from '../types';

const MOST_TALL_RATIO = 1.1;
/** Paper kept clear round a number. */
const LEAST_CLEAR_MM = 1.5;
/** And beyond each end of its letters. */
const ASIDE_MM = 0.7;
/** A piece of line shorter than this between two numbers says nothing. */
const CRUMB_MM = 1.2;
/** Lines are looked at this often when they come by a number. */
const LOOK_MM = 0.3;
/** Where rows lie so close that their lines would run together, the lines take no more than this of the paper. */
const MOST_INK_RATIO = 0.3;
/** The sketch loses no more than this of a curve, on paper. */
const FINE_MM = 0.1;

const isTurn = (step: LayStep): step is LayMove => step.kind === 'turn';

/** The bed's outline and tubing with the numbers of the turns, as wide as the strip. North is up. */
export function sketchOfBed(bed: DesignedBed, script: LayScript, widthMm: number): Part | null {
  const rings = bed.layout.outline.flatMap((polygon) => [polygon.outer, ...polygon.holes]);
  const box = boxOf(rings.flat());
  if (!box) return null;
  const [wide, tall] = [box.maxX - box.minX, box.maxY - box.minY];
  const mmPerM = Math.min((widthMm - 4) / wide, (widthMm * MOST_TALL_RATIO - 4) / tall);
  const heightMm = tall * mmPerM + 5;
  return {
    heightMm,
    draw: (x, y) => {
      const view: PaperView = {
        plan: { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 },
        paper: { x: x + widthMm / 2, y: y + heightMm / 2 },
        scaleDenominator: 1000 / mmPerM,
        turnRad: 0,
      };
      const mark = { layer: 'tables', group: `lay-${bed.id}` };
      const onPaper = (path: readonly { x: number; y: number }[]): PaperPoint[] =>
        simplifyPath(path, FINE_MM / mmPerM).map((p) => planToPaper(p, view));
      const numbers = hasManyRuns(bed) ? marksOf(bed, view) : numbersOf(bed, script, view);
      const rowMm = Math.min(WEIGHT.bold, bed.layout.rowSpacingM * mmPerM * MOST_INK_RATIO);
      const lines = (path: readonly PaperPoint[], ink: Ink, widthMm: number): readonly DrawingItem[] =>
        clearOf(path, numbers).map((piece) =>
          pathItem(mark, polylineSteps(piece), { stroke: stroke(ink, widthMm) }),
        );
      return [
        ...rings.flatMap((ring) => {
          const path = onPaper(ring);
          return lines(path[0] ? [...path, path[0]] : path, 'ink-3', WEIGHT.thin);
        }),
        ...bed.layout.runs.flatMap((run) => lines(onPaper(run.path), 'ink', rowMm)),
        ...numbers.map(({ at, text }) =>
          textItem(mark, { x: at.x, y: at.y + SIZE.small * 0.34 }, text, {
            font: 'narrow-semibold',
            sizeMm: SIZE.small,
            anchor: 'middle',
          }),
        ),
      ];
    },
  };
}

/** A number with the round of paper kept clear for it. */
interface Numbered {
  readonly at: PaperPoint;
  readonly text: string;
  readonly radiusMm: number;
}

const numberAt = (at: PaperPoint, text: string): Numbered => ({
  at,
  text,
  radiusMm: Math.max(LEAST_CLEAR_MM, measureText(text, 'narrow-semibold', SIZE.small) / 2 + ASIDE_MM),
});

const isClearOf = (placed: readonly Numbered[], own: Numbered): boolean =>
  placed.every((p) => Math.hypot(p.at.x - own.at.x, p.at.y - own.at.y) >= p.radiusMm + own.radiusMm);

/** Marks of the runs where they start; where starts crowd, the next mark stands for those it leaves no room for. */
function marksOf(bed: DesignedBed, view: PaperView): readonly Numbered[] {
  const placed: Numbered[] = [];
  for (const { run, mark } of markedRuns(bed)) {
    const own = numberAt(planToPaper(run.startsAt, view), mark);
    if (isClearOf(placed, own)) placed.push(own);
  }
  return placed;
}

/**
 * Numbers of turns on their bends; where bends crowd, the next number stands for those it leaves no room for. Where
 * there are several runs, each counting from one, its mark stands where it begins.
 */
function numbersOf(bed: DesignedBed, script: LayScript, view: PaperView): readonly Numbered[] {
  const marked = markedRuns(bed);
  const marks = new Map(marked.length > 1 ? marked.map(({ run, mark }) => [run.id, mark]) : []);
  const laid = script.runs.flatMap(({ runId, steps }) => {
    const run = bed.layout.runs.find(({ id, emittersM }) => id === runId && emittersM.length > 0);
    return run ? [{ run, steps }] : [];
  });
  const begins = laid.map(({ run }) =>
    numberAt(planToPaper(pointAlong(run.path, 0).at, view), marks.get(run.id) ?? '1'),
  );
  const turns = laid.flatMap(({ run, steps }) =>
    steps.flatMap((step, i) => {
      if (!isTurn(step)) return [];
      const middleM = (step.fromM + step.alongM) / 2;
      return [numberAt(planToPaper(pointAlong(run.path, middleM).at, view), String(i + 1))];
    }),
  );
  const placed: Numbered[] = [];
  for (const own of [...begins, ...turns]) if (isClearOf(placed, own)) placed.push(own);
  return placed;
}

/** A line left out where it would run through a number, and where what is left between two numbers is a crumb. */
function clearOf(
  path: readonly PaperPoint[],
  numbers: readonly Numbered[],
): readonly (readonly PaperPoint[])[] {
  const pieces: PaperPoint[][] = [];
  let open: PaperPoint[] | null = null;
  // Asked some ten thousand times a sketch: no roots, and no list is gone through by calls.
  const isClear = (p: PaperPoint): boolean => {
    for (const { at, radiusMm } of numbers) {
      const dx = at.x - p.x;
      const dy = at.y - p.y;
      if (dx * dx + dy * dy < radiusMm * radiusMm) return false;
    }
    return true;
  };
  const reach = (p: PaperPoint): void => {
    if (!isClear(p)) open = null;
    else if (open) open.push(p);
    else {
      open = [p];
      pieces.push(open);
    }
  };
  path.forEach((p, i) => {
    const before = path[i - 1];
    const lengthMm = before ? Math.hypot(p.x - before.x, p.y - before.y) : 0;
    const steps = before ? Math.max(1, Math.ceil(lengthMm / LOOK_MM)) : 1;
    for (let k = 1; k <= steps; k++)
      reach(
        before
          ? {
              x: before.x + ((p.x - before.x) * k) / steps,
              y: before.y + ((p.y - before.y) * k) / steps,
            }
          : p,
      );
  });
  return pieces.filter((piece) => lengthMmOf(piece) >= CRUMB_MM);
}

function lengthMmOf(path: readonly PaperPoint[]): number {
  let sumMm = 0;
  for (let i = 1; i < path.length; i++)
    sumMm += Math.hypot(path[i]!.x - path[i - 1]!.x, path[i]!.y - path[i - 1]!.y);
  return sumMm;
}
