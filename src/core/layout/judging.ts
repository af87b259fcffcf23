import { distanceM, type MultiPolygon, multiPolygonAreaM2 } from '../geometry';
import { widestJoinedSpacingM } from '../soilwater';
import { assemble } from './assemble';
import { measureCoverage } from './coverage';
import { countBentRows, countRows } from './figures';
import { type Dryness, drynessOf, wateringGoal } from './goal';
import type { WateringGoal } from './loop';
import type { Sketch } from './sketch';
import type { Alternative, Coverage, Join, LayoutInput, LayoutKind, Run, Verification } from './types';
import { verifyRuns } from './verify';
import { worstPhaseOverlap } from './wettedOverlap';

/** A fitting costs a crew about as much as this much tubing: cutting, pushing on, clamping (ours, stated). */
const FITTING_WEIGHT_M = 1.5;
/** Where one loop would not be too long, each beyond it costs as much as this much tubing: a tee, a lead and a flush of its own (ours, stated). */
const ANOTHER_LOOP_M = 20;
/** Tubing that no jig can lay is dimensioned and laid by eye (ours, stated). */
const CURVED_WEIGHT_RATIO = 0.25;
/** A metre of row that ends costs this much more than one of a loop: it is fed from one side only and flushed at its end (ours, stated). */
const DEAD_END_WEIGHT_RATIO = 0.25;
/** Ground left dry weighs this many times the tubing it would take. */
const DRY_WEIGHT = 30;
/** A metre of loop beyond the length limit weighs this many of tubing. */
const OVER_LIMIT_WEIGHT = 3;
/** Loops of one bed are about equal where none is further than this share from their mean; beyond it all their tubing weighs. */
const ABOUT_EQUAL_RATIO = 0.15;
const UNEVEN_WEIGHT = 8;
const INVALID_COST_M = 1e6;
const NEAR_STUB_UP_M = 0.3;

/** Rows may lie this much wider than asked, less than a crew keeps by eye, without being called stretched. */
const AS_ASKED_RATIO = 1.03;

const PLAIN_FITTINGS = new Set(['flush-valve']);

/** A layout laid, measured and held against the verifier. */
export interface Judged {
  readonly sketches: readonly Sketch[];
  readonly alternative: Alternative;
  readonly verification: Verification;
  readonly stubUp: { readonly x: number; readonly y: number };
  /** The part of its cost that is for ground left dry, metres of tubing: the most that watering it could save. */
  readonly dryCostM: number;
  /** How far it falls short of the bed's goal, as measured. */
  readonly dryness: Dryness;
}

/** What the figures of one layout are measured over. */
export interface JudgingGround {
  readonly idPrefix: string;
  readonly usable: MultiPolygon;
  /** Trees in that ground that get a ring of tubing. */
  readonly trees: LayoutInput['trees'];
}

/** Lays sketches and gives them figures and a cost in metres of tubing: the lower, the fitter. */
export function judge(
  key: string,
  sketches: readonly Sketch[],
  input: LayoutInput,
  ground: JudgingGround,
): Judged {
  const main = sketches[0]!;
  const { runs, joins, stubUp } = assemble(sketches, input, ground.idPrefix);
  const spacingM = Math.max(input.rowSpacingM, main.rowSpacingM);
  const verification = verifyRuns({
    rings: input.rings,
    obstacles: input.obstacles,
    runs,
    joins,
    rowSpacingM: input.rowSpacingM,
    bendRadiusM: input.bendRadiusM,
    isFed: true,
  });
  const wet = runs.filter(
    (run) => run.emittersM.length > 0 || run.role === 'loop' || run.role === 'single-row',
  );
  const coverage: Coverage = {
    ...measureCoverage(
      ground.usable,
      wet.map((run) => run.path),
      spacingM,
    ),
    worstPhaseOverlapRatio: worstPhaseOverlap(runs, input.emitterSpacingM, spacingM, input.wettedDiameterM),
  };
  const figures = totals(runs, joins, main, input);
  const usableM2 = multiPolygonAreaM2(ground.usable);
  const goal = wateringGoal(input);
  const dryCostM = dryCostOf(coverage, goal, spacingM, usableM2);
  const alternative: Alternative = {
    key,
    layout: main.layout,
    rowSpacingM: main.rowSpacingM,
    stretchRatio: Math.max(0, main.rowSpacingM / input.rowSpacingM - 1),
    directionRad: main.directionRad,
    runs,
    joins,
    ...figures,
    coverage,
    valid: verification.passed,
    costM: dryCostM + stripeCostOf(spacingM, usableM2, input) + costOf(figures, runs, verification, input),
  };
  return {
    sketches,
    alternative,
    verification,
    stubUp,
    dryCostM,
    dryness: drynessOf(coverage, goal, spacingM),
  };
}

type Totals = Pick<Alternative, 'lengthM' | 'turns' | 'rows' | 'fittings' | 'straightFraction'>;

function totals(runs: readonly Run[], joins: readonly Join[], main: Sketch, input: LayoutInput): Totals {
  const wet = runs.filter((run) => run.role !== 'lead' && run.role !== 'connector');
  const paths = wet.map((run) => run.path);
  const lengthM = wet.reduce((sum, run) => sum + run.lengthM, 0);
  const straightM = wet.reduce((sum, run) => sum + run.lengthM * run.straightFraction, 0);
  return {
    lengthM,
    turns: wet.reduce((sum, run) => sum + run.turns, 0),
    rows:
      main.layout === 'contour'
        ? countBentRows(paths, input.rowSpacingM)
        : countRows(paths, main.directionRad, input.rowSpacingM),
    fittings: joins.filter((join) => !PLAIN_FITTINGS.has(join.fitting)).length,
    straightFraction: lengthM > 0 ? straightM / lengthM : 0,
  };
}

/** What dry ground and the widest gap cost beyond what the goal allows. */
function dryCostOf(coverage: Coverage, goal: WateringGoal, spacingM: number, usableM2: number): number {
  const dryM = (Math.max(0, goal.coveredRatio - coverage.coveredRatio) * usableM2) / spacingM;
  const gapRows = Math.max(0, coverage.maxGapM / spacingM - goal.gapRatio);
  return DRY_WEIGHT * (dryM + gapRows * spacingM);
}

/** What the dry stripes between rows cost where rows lie further apart than wet ground joins. */
function stripeCostOf(spacingM: number, usableM2: number, input: LayoutInput): number {
  return (DRY_WEIGHT * (pastWettedM(spacingM, input) / spacingM) * usableM2) / spacingM;
}

/** The fitness, dry ground aside, in its order: valid; turns and rows; length; end near the stub-up. */
function costOf(
  figures: Totals,
  runs: readonly Run[],
  verification: Verification,
  input: LayoutInput,
): number {
  const loopLengthsM = runs.filter((run) => run.role === 'loop').map((run) => run.lengthM);
  const longestM = Math.max(0, ...loopLengthsM);
  const unevenRatio = Math.max(0, unevennessRatio(loopLengthsM) - ABOUT_EQUAL_RATIO);
  const isOneEnough = input.maxRunM === null || figures.lengthM <= input.maxRunM;
  const overM = input.maxRunM === null ? 0 : Math.max(0, longestM - input.maxRunM);
  const plainM = runs.filter((run) => run.role === 'connector').reduce((sum, run) => sum + run.lengthM, 0);
  const deadEndM = runs.filter((run) => run.role === 'single-row').reduce((sum, run) => sum + run.lengthM, 0);
  const leads = runs.filter((run) => run.role === 'lead');
  const leadM = leads.reduce((sum, run) => sum + Math.max(0, run.lengthM - NEAR_STUB_UP_M), 0);
  return (
    (verification.passed ? 0 : INVALID_COST_M) +
    OVER_LIMIT_WEIGHT * overM +
    (isOneEnough ? ANOTHER_LOOP_M * Math.max(0, loopLengthsM.length - 1) : 0) +
    UNEVEN_WEIGHT * unevenRatio * figures.lengthM +
    figures.lengthM +
    plainM +
    DEAD_END_WEIGHT_RATIO * deadEndM +
    input.turnWeightM * figures.turns +
    FITTING_WEIGHT_M * figures.fittings +
    CURVED_WEIGHT_RATIO * figures.lengthM * (1 - figures.straightFraction) +
    leadM
  );
}

/** How far the loop furthest from the mean length is from it, as a share of the mean; 0 for one loop or none. */
function unevennessRatio(lengthsM: readonly number[]): number {
  const meanM = lengthsM.reduce((sum, lengthM) => sum + lengthM, 0) / Math.max(1, lengthsM.length);
  return Math.max(0, ...lengthsM.map((lengthM) => Math.abs(lengthM / meanM - 1)));
}

/**
 * How much further apart rows lie than wet ground still joins across them, metres; 0 for rows as asked. Stretching is worth
 * nothing by default where the lesser of the two wetting models leaves a dry stripe between rows.
 */
export function pastWettedM(rowSpacingM: number, input: LayoutInput): number {
  const widestM = Math.max(AS_ASKED_RATIO * input.rowSpacingM, widestJoinedSpacingM(input.wettedDiameterM));
  return Math.max(0, rowSpacingM - widestM);
}

/** Layouts that are one run of tubing looped back to its stub-up, or the strip that stands in for it: what a crew lays by default. */
export function isLooped(layout: LayoutKind): boolean {
  return layout !== 'laterals';
}

/** Distance between the stub-up and where the tubing begins, metres. */
export function leadLengthM(judged: Judged): number {
  const first = judged.alternative.runs[0];
  return first ? distanceM(judged.stubUp, first.startsAt) : 0;
}
