import type { BedLayout, LayoutInput } from '../../src/core/layout';
import {
  countCrossings,
  isRectilinear,
  longStretches,
  rowsOf,
  splitSpread,
  wetRuns,
  worstClearanceM,
} from './layoutFigures';

const FOOT2_M2 = 0.3048 ** 2;

/** Figures of one laid part that the targets are about; lengths in metres, ratios as ratios. */
export interface TargetFigures {
  readonly areaFt2: number;
  readonly obstacles: number;
  readonly lengthM: number;
  readonly overBedRatio: number;
  readonly overUsableRatio: number;
  readonly coveredRatio: number;
  readonly gapRows: number;
  readonly turns: number;
  readonly turnsAllowed: number;
  readonly wavyRows: number;
  readonly rows: number;
  readonly stretchRatio: number;
  readonly separationRows: number;
  readonly clearanceM: number;
  readonly crossings: number;
  readonly bendM: number;
  readonly splitSpreadRatio: number;
  readonly startM: number;
}

/** Measures a laid part by its own paths. Crossings, clearance, rows and straightness by code that the program does not hold. */
export function figuresOf(part: BedLayout, input: LayoutInput): TargetFigures {
  const wet = wetRuns(part);
  const lengthM = wet.reduce((sum, run) => sum + run.lengthM, 0);
  const spacingM = part.nominalRowSpacingM;
  const rows = rowsOf(part, input);
  const obstacles = input.rings.length - 1 + input.obstacles.length;
  const first = wet[0];
  return {
    areaFt2: part.areaM2 / FOOT2_M2,
    obstacles,
    lengthM,
    overBedRatio: lengthM / (part.areaM2 / spacingM || 1),
    overUsableRatio: lengthM / (part.usableAreaM2 / spacingM || 1),
    coveredRatio: part.coverage.coveredRatio,
    gapRows: part.coverage.maxGapM / spacingM,
    turns: wet.reduce((sum, run) => sum + run.turns, 0),
    turnsAllowed: 2 * (rows.length > 1 ? rows.length : longStretches(part)) + 2 + 6 * obstacles,
    wavyRows: rows.filter((row) => row.strayM !== null && row.strayM > 0.001).length,
    rows: rows.length,
    stretchRatio: part.rowSpacingM / spacingM - 1,
    separationRows: part.verified.separationM / spacingM,
    clearanceM: worstClearanceM(part, input),
    crossings: countCrossings(part),
    bendM: part.verified.minBendRadiusM,
    splitSpreadRatio: splitSpread(part),
    startM: first ? Math.hypot(first.startsAt.x - part.stubUp.x, first.startsAt.y - part.stubUp.y) : 0,
  };
}

/** One target of routing: what it is called, whom it is for, and whether a part meets it. */
interface Target {
  readonly name: string;
  readonly isFor: (figures: TargetFigures, part: BedLayout, input: LayoutInput) => boolean;
  readonly isMet: (figures: TargetFigures, part: BedLayout, input: LayoutInput) => boolean;
}

const always = (): boolean => true;
const isLoopLike = (_: TargetFigures, part: BedLayout): boolean => part.layout !== 'laterals';
const leastM = (input: LayoutInput): number => Math.max(0.6 * input.rowSpacingM, 2 * input.bendRadiusM);
const gapLimit = (figures: TargetFigures, input: LayoutInput): number =>
  figures.obstacles > 0 ? 0.85 : isRectilinear(input) ? 0.6 : 0.7;

/** Rules that hold on every bed, or it is refused with a reason. */
export const ALWAYS_RULES: readonly Target[] = [
  { name: 'sound', isFor: always, isMet: (_, part) => part.verified.passed },
  { name: 'no crossing', isFor: always, isMet: (figures) => figures.crossings === 0 },
  { name: 'clearance', isFor: always, isMet: (figures) => figures.clearanceM >= -0.002 },
  {
    name: 'separation',
    isFor: always,
    isMet: (_, part, input) => part.verified.separationM >= leastM(input) - 0.002,
  },
  {
    name: 'bend',
    isFor: always,
    isMet: (figures, _, input) => figures.bendM >= 0.95 * Math.min(input.bendRadiusM, leastM(input) / 2),
  },
];

/** What good routes reach, bed by bed. */
export const TARGETS: readonly Target[] = [
  {
    name: 'coverage',
    isFor: always,
    isMet: (figures) => figures.coveredRatio >= (figures.obstacles > 0 ? 0.99 : 0.995),
  },
  {
    name: 'gap',
    isFor: always,
    isMet: (figures, _, input) => figures.gapRows <= gapLimit(figures, input) + 0.005,
  },
  {
    name: 'length',
    isFor: (figures) => figures.areaFt2 > 400 && figures.stretchRatio < 0.005,
    isMet: (figures) =>
      figures.areaFt2 > 5000
        ? figures.overBedRatio <= 1.03 && figures.overUsableRatio <= 1.05
        : figures.overBedRatio <= 1.12,
  },
  { name: 'turns', isFor: isLoopLike, isMet: (figures) => figures.turns <= figures.turnsAllowed },
  { name: 'straight', isFor: isLoopLike, isMet: (figures) => figures.wavyRows === 0 },
  { name: 'split', isFor: always, isMet: (figures) => figures.splitSpreadRatio <= 0.15 },
  { name: 'start', isFor: (_, __, input) => input.stubUpMovable, isMet: (figures) => figures.startM <= 0.3 },
];

/** Most time a bed may take, one core: milliseconds for the preview and the finished route. Nothing is asked between the sizes named. */
export function timeLimitMs(areaFt2: number): { readonly preview: number; readonly finished: number } {
  const none = Number.POSITIVE_INFINITY;
  if (areaFt2 <= 1000) return { preview: 25, finished: 300 };
  if (areaFt2 <= 10_500) return { preview: none, finished: 1000 };
  return { preview: none, finished: 5000 };
}

/** Names of the targets a part is held to and misses. */
export function missedBy(
  targets: readonly Target[],
  figures: TargetFigures,
  part: BedLayout,
  input: LayoutInput,
): string[] {
  return targets
    .filter((target) => target.isFor(figures, part, input) && !target.isMet(figures, part, input))
    .map((target) => target.name);
}

/** Does a target ask anything of this part? */
export const isHeldTo = (
  name: string,
  figures: TargetFigures,
  part: BedLayout,
  input: LayoutInput,
): boolean =>
  [...ALWAYS_RULES, ...TARGETS].some((target) => target.name === name && target.isFor(figures, part, input));
