import { setting } from '../../catalog';
import { solveFlushingSteps, stillHeadM, withFigures } from '../../hydraulics';
import type { Plan } from '../../plan';
import { allSteps, type Steps } from '../../units';
import { FLUSH_VALVE_K } from '../solveZone';
import { sourceOf } from '../source';
import type { Zone } from '../types';
import {
  beginTrial,
  staticHeadOf,
  type TrialReading,
  withFilterLoaded,
  withStaticHead,
  type ZoneTrial,
} from './zoneTrial';

/** What fails below a pressure; `core/words` says it. */
export type PressureLimitCode =
  | 'supply.found-emitters-short'
  | 'supply.found-uneven'
  | 'supply.found-regulator-open'
  | 'supply.found-short-when-loaded'
  | 'supply.found-flush-slow';

/** The least static pressure head, m at the connection on the day, at which one thing still holds. */
export interface PressureLimit {
  readonly code: PressureLimitCode;
  /**
   * Not looked for below the pressure at which the emitters run short (below that a crew calls in any case), nor, where no
   * pressure serves them, below what the zone was drawn for: one that holds there counts as that. Null: no source pressure up to `HIGHEST_M` makes it hold; the design itself does
   * not meet it.
   */
  readonly staticHeadM: number | null;
}

/** What to do with the pressure a crew finds, for one zone. All heads are static, at the connection, on the day, m. */
export interface FoundPressure {
  readonly zoneId: string;
  readonly zoneNumber: number;
  /** Static head on the day that the design was drawn for. */
  readonly drawnForM: number;
  /** At or above: build as drawn. Null where something does not hold at any pressure. */
  readonly asDrawnFromM: number | null;
  /** At or above, below `asDrawnFromM`: build but expect what `limits` names. Below: stop and call. Null: always call. */
  readonly expectFromM: number | null;
  /** Above: stop and call, a pressure regulator is needed first. */
  readonly mostM: number;
  /** Highest first; those no pressure mends before all others. */
  readonly limits: readonly PressureLimit[];
  /** What the mains may fall below a reading of the day; counted in every limit. */
  readonly seasonFallM: number;
}

/** No limit is looked for above this: twice any service pressure. */
const HIGHEST_M = 120;
/** Limits are found to this, m: a tenth of what a gauge shows. */
const FOUND_TO_M = 0.01;

type Holds = (staticHeadM: number) => Steps<boolean>;

/** Widening of the span in which a limit is looked for, outwards from where the search begins. */
const WIDER = 1.25;
const LOWEST_M = 1;

/** A head at which a limit fails and one at which it holds, above a head at which it fails; null: it never holds. */
function* spanAbove(failsAtM: number, holds: Holds): Steps<{ low: number; high: number } | null> {
  let low = failsAtM;
  while (low < HIGHEST_M) {
    const high = Math.min(HIGHEST_M, low * WIDER);
    if (yield* holds(high)) return { low, high };
    low = high;
  }
  return null;
}

/** The same below a head at which it holds. Far below most of a zone is dry, so the span widens step by step. */
function* spanBelow(holdsAtM: number, holds: Holds): Steps<{ low: number; high: number }> {
  let high = holdsAtM;
  let low = high / WIDER;
  while (low > LOWEST_M && (yield* holds(low))) {
    high = low;
    low /= WIDER;
  }
  return { low: low > LOWEST_M ? low : 0, high };
}

/** Least head at which `holds`, by halving; every limit is such that more head never breaks it. */
function* halve(span: { readonly low: number; readonly high: number }, holds: Holds): Steps<number> {
  let { low, high } = span;
  while (high - low > FOUND_TO_M) {
    const middle = (low + high) / 2;
    if (yield* holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** Least head at which `holds`, looked for both ways from a first guess; null: no head makes it hold. */
function* leastHead(guessM: number, holds: Holds): Steps<number | null> {
  const fromM = Math.min(guessM, HIGHEST_M);
  const span = (yield* holds(fromM)) ? yield* spanBelow(fromM, holds) : yield* spanAbove(fromM, holds);
  return span === null ? null : yield* halve(span, holds);
}

/** Least head at which `holds`, at or above a floor; null: no head makes it hold. */
function* leastHeadFrom(floorM: number, holds: Holds): Steps<number | null> {
  if (yield* holds(floorM)) return floorM;
  const span = yield* spanAbove(floorM, holds);
  return span === null ? null : yield* halve(span, holds);
}

function limitTests(trial: ZoneTrial, plan: Plan): readonly (readonly [PressureLimitCode, Holds])[] {
  const { zone, prepared } = trial;
  const wantedUniformity = setting(plan.settings, 'uniformityWantedRatio');
  const wantedFlushMs = setting(plan.settings, 'flushVelocityMs');
  const known = new Map<number, TrialReading | null>();
  function* readAt(headM: number): Steps<TrialReading | null> {
    const before = known.get(headM);
    if (before !== undefined) return before;
    const reading = yield* trial.read(withStaticHead(zone.network, headM));
    known.set(headM, reading);
    yield;
    return reading;
  }
  const when = (test: (reading: TrialReading) => boolean): Holds =>
    function* (headM) {
      const reading = yield* readAt(headM);
      return reading !== null && test(reading);
    };
  const boreOf = new Map(
    zone.network.links.flatMap((link) =>
      link.kind === 'pipe' ? [[link.id, link.insideDiameterM] as const] : [],
    ),
  );
  const flushPoints = zone.tubing.flush.map(({ nodeId, runId }) => {
    const piece = zone.tubing.pieces.find((one) => one.runId === runId);
    return { nodeId, outletDiameterM: boreOf.get(piece?.linkId ?? '') ?? 0, outletLossK: FLUSH_VALVE_K };
  });
  const flushes: Holds = function* (headM) {
    const reading = yield* readAt(headM);
    if (reading === null) return false;
    const raised = withFigures(prepared, withStaticHead(zone.network, headM));
    for (const point of flushPoints) {
      const [state] = yield* solveFlushingSteps(raised, [point], reading.solution);
      if (state?.solution.status !== 'settled' || state.endVelocityMs < wantedFlushMs - 1e-9) return false;
    }
    yield;
    return true;
  };
  return [
    ['supply.found-emitters-short', when(({ leastMarginM }) => leastMarginM >= 0)],
    ['supply.found-uneven', when(({ emissionUniformity }) => emissionUniformity >= wantedUniformity - 5e-4)],
    [
      'supply.found-regulator-open',
      when(({ regulatorInletM }) => regulatorInletM >= zone.assembly.regulatorMinInletHeadM),
    ],
    [
      'supply.found-short-when-loaded',
      function* (headM) {
        const reading = yield* trial.read(withFilterLoaded(zone, withStaticHead(zone.network, headM), 1));
        yield;
        return reading !== null && reading.leastMarginM >= 0;
      },
    ],
    ...(flushPoints.length > 0 ? [['supply.found-flush-slow', flushes] as const] : []),
  ];
}

const higherFirst = (a: PressureLimit, b: PressureLimit): number =>
  (b.staticHeadM ?? Number.POSITIVE_INFINITY) - (a.staticHeadM ?? Number.POSITIVE_INFINITY) ||
  (a.code < b.code ? -1 : 1);

/**
 * The static pressure at which each limit of a zone fails, found by halving on the solved network with the source moved,
 * and what follows for a crew that finds another pressure than the plan was drawn for. The source is taken to fall with
 * flow as it was measured to; a reading of the day may fall to the year's lowest, which every limit allows for.
 *
 * @returns null where the zone was not solved or is too large to be tried out
 */
export function foundPressure(plan: Plan, zone: Zone): FoundPressure | null {
  return allSteps(foundPressureSteps(plan, zone));
}

/** As `foundPressure`, one head a step; one that starves the zone takes more. */
export function* foundPressureSteps(plan: Plan, zone: Zone): Steps<FoundPressure | null> {
  const trial = beginTrial(zone);
  if (trial === null) return null;
  const supply = zone.network.links.find((link) => link.kind === 'supply');
  const stillM = supply?.kind === 'supply' ? stillHeadM(supply.curve) : staticHeadOf(zone.network);
  const measuredM = sourceOf(plan)?.staticHeadM ?? stillM;
  const seasonFallM = Math.max(0, measuredM - stillM);
  const limits: PressureLimit[] = [];
  const drawnForM = staticHeadOf(zone.network);
  let servedM: number | null = null;
  for (const [code, holds] of limitTests(trial, plan)) {
    const isFirst = code === 'supply.found-emitters-short';
    const headM: number | null = yield* isFirst
      ? leastHead(drawnForM, holds)
      : leastHeadFrom(servedM ?? Math.min(drawnForM, HIGHEST_M), holds);
    if (isFirst) servedM = headM;
    limits.push({ code, staticHeadM: headM === null ? null : headM + seasonFallM });
  }
  limits.sort(higherFirst);
  const served = limits.find(({ code }) => code === 'supply.found-emitters-short')?.staticHeadM ?? null;
  return {
    zoneId: zone.id,
    zoneNumber: zone.number,
    drawnForM: staticHeadOf(zone.network) + seasonFallM,
    asDrawnFromM: limits[0]?.staticHeadM ?? null,
    expectFromM: served,
    mostM: setting(plan.settings, 'highestStaticHeadM'),
    limits,
    seasonFallM,
  };
}
