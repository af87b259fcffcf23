import { setting, settingSource } from '../../catalog';
import {
  distributionUniformity,
  type Network,
  seededRandom,
  sensitivitiesAt,
  spreadOf,
  standardNormal,
  statisticalUniformity,
  type TrialFigure,
  trialFigureOf,
} from '../../hydraulics';
import type { Plan } from '../../plan';
import { allSteps, type Source, type Steps } from '../../units';
import type { Zone } from '../types';
import { beginTrial, staticHeadOf, withFilterLoaded, withStaticHead, type ZoneTrial } from './zoneTrial';

/** What may come out otherwise than drawn; `core/words` says each. */
export type BuildErrorCode =
  | 'supply.error-row-length'
  | 'supply.error-filter-loaded'
  | 'supply.error-supply-low'
  | 'supply.error-emitter-variation';

/** One error as large as one build in twenty has it, alone. */
export interface BuildError {
  readonly code: BuildErrorCode;
  /** Size tried, as a ratio: of length, of static head, of the way from clean to loaded, or a coefficient of variation. */
  readonly sizeRatio: number;
  /** Fall of head at the emitter with least to spare, m, solved. */
  readonly headLossM: number;
  /** Fall of uniformity as built, solved. */
  readonly uniformityLossRatio: number;
  /** Share of the zone's margins that it uses up; above 1 it breaks the zone alone. */
  readonly marginUsedRatio: number;
  readonly source: Source;
}

/** How surely a zone comes out as wanted when built as crews build. */
export interface BuildTolerance {
  readonly zoneId: string;
  readonly zoneNumber: number;
  readonly trialCount: number;
  readonly seed: number;
  /** Share of the builds with uniformity and least head both as wanted. */
  readonly bothRatio: number;
  readonly uniformRatio: number;
  readonly servedRatio: number;
  /** Low-quarter uniformity as built, against which the wanted uniformity is held. */
  readonly distributionUniformity: TrialFigure;
  readonly statisticalUniformity: TrialFigure;
  /** Head to spare at the emitter worst off, m: mean, 1 build in 20 has less than `low`, 1 in 20 more than `high`. */
  readonly marginM: TrialFigure;
  /** The one that matters most first. */
  readonly errors: readonly BuildError[];
  /** First-order answers at the emitter worst off: m of head per m of source head; and per share of tubing length more. */
  readonly perSourceHeadM: number;
  readonly perLengthRatioM: number;
}

/** One build: how far each thing is off. */
interface Build {
  readonly lengthRatio: number;
  readonly loadedRatio: number;
  readonly staticRatio: number;
}

const AS_DRAWN: Build = { lengthRatio: 1, loadedRatio: 0, staticRatio: 1 };
/** Deviations that one normal draw in twenty exceeds. Source: table of the normal distribution. */
const ONE_IN_TWENTY = 1.645;
const MOST_TRIALS = 200;
const LEAST_TRIALS = 60;
/** Places solved for a zone over all its builds: a large zone is built less often, so that a desk need not wait for it. */
const PLACES_SOLVED = 300_000;

const trialsFor = (zone: Zone): number =>
  Math.max(LEAST_TRIALS, Math.min(MOST_TRIALS, Math.floor(PLACES_SOLVED / zone.network.nodes.length)));
/** Margins smaller than this count as this, so that a zone with nothing to spare does not divide by nothing. */
const LEAST_MARGIN_M = 0.05;
const LEAST_MARGIN_RATIO = 0.002;

function built(zone: Zone, build: Build): Network {
  const tubing = new Set(zone.tubing.pieces.map(({ linkId }) => linkId));
  const moved = withStaticHead(zone.network, staticHeadOf(zone.network) * build.staticRatio);
  const laid =
    build.lengthRatio === 1
      ? moved
      : {
          ...moved,
          links: moved.links.map((link) =>
            link.kind === 'pipe' && tubing.has(link.id)
              ? { ...link, lengthM: link.lengthM * build.lengthRatio }
              : link,
          ),
        };
  return withFilterLoaded(zone, laid, build.loadedRatio);
}

/** Flows with each emitter made a little more or less than its law says, the draw held within three deviations. */
function asMade(flowM3s: Float64Array, variationCv: number, random: () => number): Float64Array {
  return flowM3s.map((flow) => flow * (1 + variationCv * standardNormal(random)));
}

/** The seed of a zone: the same plan gives the same figures. */
const SEED_OF_ZONE = 7919;

/**
 * Builds a zone again and again with everything a little off: tubing laid longer or shorter, a filter anywhere between clean
 * and loaded, mains higher or lower, emitters as made. Says how often it still comes out as wanted, and which error matters
 * most. Seeded: the same zone gives the same figures.
 *
 * The wanted uniformity is held against the low-quarter figure of the made emitters, the field counterpart of the design
 * figure. Source: Keller and Karmeli (1974), field emission uniformity.
 *
 * @param trialCount builds; 200 unless said, fewer (60 at least) where the zone has more than 1500 places to solve
 * @returns null where the zone was not solved or is too large to be tried out
 */
export function buildTolerance(plan: Plan, zone: Zone, trialCount = trialsFor(zone)): BuildTolerance | null {
  return allSteps(buildToleranceSteps(plan, zone, trialCount));
}

/** As `buildTolerance`, one build a step. */
export function* buildToleranceSteps(
  plan: Plan,
  zone: Zone,
  trialCount = trialsFor(zone),
): Steps<BuildTolerance | null> {
  const trial = beginTrial(zone);
  if (trial === null) return null;
  const wanted = setting(plan.settings, 'uniformityWantedRatio');
  const lengthCv = setting(plan.settings, 'builtLengthCvRatio');
  const supplyCv = setting(plan.settings, 'supplyHeadCvRatio');
  const seed = SEED_OF_ZONE * zone.number;
  const random = seededRandom(seed);
  const uniform: number[] = [];
  const statistical: number[] = [];
  const margins: number[] = [];
  let both = 0;
  for (let count = 0; count < trialCount; count++) {
    const build: Build = {
      lengthRatio: 1 + lengthCv * standardNormal(random),
      loadedRatio: random(),
      staticRatio: 1 + supplyCv * standardNormal(random),
    };
    const reading = yield* trial.read(built(zone, build));
    const made = asMade(reading?.flowM3s ?? new Float64Array(0), trial.variationCv, random);
    uniform.push(distributionUniformity(made));
    statistical.push(statisticalUniformity(made));
    margins.push(reading?.leastMarginM ?? Number.NEGATIVE_INFINITY);
    if (margins.at(-1)! >= 0 && uniform.at(-1)! >= wanted) both += 1;
    yield;
  }
  const share = (holds: readonly boolean[]): number => holds.filter(Boolean).length / trialCount;
  return {
    zoneId: zone.id,
    zoneNumber: zone.number,
    trialCount,
    seed,
    bothRatio: both / trialCount,
    uniformRatio: share(uniform.map((value) => value >= wanted)),
    servedRatio: share(margins.map((value) => value >= 0)),
    distributionUniformity: trialFigureOf(uniform),
    statisticalUniformity: trialFigureOf(statistical),
    marginM: trialFigureOf(margins.map((value) => Math.max(value, -staticHeadOf(zone.network)))),
    errors: yield* errorsOf(trial, plan, wanted),
    ...(yield* firstOrder(trial)),
  };
}

/** Each error alone, as bad as one build in twenty has it, and the share of the margins it uses. */
function* errorsOf(trial: ZoneTrial, plan: Plan, wanted: number): Steps<BuildError[]> {
  const { zone, variationCv } = trial;
  const drawn = yield* trial.read(zone.network);
  if (drawn === null) return [];
  const drawnUniformity = distributionUniformity(drawn.flowM3s);
  const marginM = Math.max(LEAST_MARGIN_M, drawn.leastMarginM);
  const marginRatio = Math.max(LEAST_MARGIN_RATIO, drawnUniformity - wanted);
  const lengthCv = setting(plan.settings, 'builtLengthCvRatio');
  const supplyCv = setting(plan.settings, 'supplyHeadCvRatio');
  const alone = function* (
    code: BuildErrorCode,
    sizeRatio: number,
    build: Build,
    source: Source,
  ): Steps<BuildError> {
    const reading = yield* trial.read(built(zone, build));
    const headLossM = reading === null ? marginM : drawn.leastMarginM - reading.leastMarginM;
    const uniformityLossRatio =
      reading === null ? drawnUniformity : drawnUniformity - distributionUniformity(reading.flowM3s);
    const marginUsedRatio = Math.max(headLossM / marginM, uniformityLossRatio / marginRatio, 0);
    return { code, sizeRatio, headLossM, uniformityLossRatio, marginUsedRatio, source };
  };
  const made = asMade(drawn.flowM3s, variationCv, seededRandom(SEED_OF_ZONE));
  const madeLossRatio = drawnUniformity - distributionUniformity(made);
  const errors = [
    yield* alone(
      'supply.error-row-length',
      ONE_IN_TWENTY * lengthCv,
      { ...AS_DRAWN, lengthRatio: 1 + ONE_IN_TWENTY * lengthCv },
      settingSource(plan.settings, 'builtLengthCvRatio'),
    ),
    yield* alone(
      'supply.error-filter-loaded',
      0.95,
      { ...AS_DRAWN, loadedRatio: 0.95 },
      zone.assembly.source,
    ),
    yield* alone(
      'supply.error-supply-low',
      ONE_IN_TWENTY * supplyCv,
      { ...AS_DRAWN, staticRatio: 1 - ONE_IN_TWENTY * supplyCv },
      settingSource(plan.settings, 'supplyHeadCvRatio'),
    ),
    {
      code: 'supply.error-emitter-variation' as const,
      sizeRatio: variationCv,
      headLossM: 0,
      uniformityLossRatio: madeLossRatio,
      marginUsedRatio: Math.max(0, madeLossRatio / marginRatio),
      source: { text: 'variation of the dripline as the catalogue gives it', standing: 'typical' as const },
    },
  ];
  return errors.sort((a, b) => b.marginUsedRatio - a.marginUsedRatio || (a.code < b.code ? -1 : 1));
}

/** From the solver's own derivatives, one backward solve. */
function* firstOrder(trial: ZoneTrial): Steps<{ perSourceHeadM: number; perLengthRatioM: number }> {
  const { zone, prepared } = trial;
  const reading = yield* trial.read(zone.network);
  if (reading === null) return { perSourceHeadM: 0, perLengthRatioM: 0 };
  const emitters = zone.network.nodes.filter(({ emitter }) => emitter);
  const spare = emitters.map((node) => trial.headAt(reading, node.id) - node.emitter!.minHeadM);
  const worst = emitters[spare.indexOf(spreadOf(spare).min)];
  if (!worst) return { perSourceHeadM: 0, perLengthRatioM: 0 };
  const answer = sensitivitiesAt(prepared, reading.solution).ofNode(worst.id);
  const tubing = new Set(zone.tubing.pieces.map(({ linkId }) => linkId));
  const perLengthRatioM = zone.network.links.reduce(
    (sum, link, index) =>
      link.kind === 'pipe' && tubing.has(link.id) ? sum + answer.toLengthM[index]! * link.lengthM : sum,
    0,
  );
  return {
    perSourceHeadM: [...answer.toSourceHead.values()].reduce((sum, value) => sum + value, 0),
    perLengthRatioM,
  };
}
