import type { Catalog } from '../catalog';
import { setting } from '../catalog';
import { type RunLimit, runLimitM } from '../hydraulics';
import { type BedLayout, type LayoutInput, layoutBed, layoutInputFor } from '../layout';
import { type Bed, type Plan, withNames } from '../plan';
import { type BedChoice, chooseForBed } from '../soilwater';
import type { Traced } from '../units';
import type { DesignCache } from './cache';

/** One bed of the plan carried as far as its tubing; a bow-tie has several parts. */
export interface RoutedBed {
  readonly bed: Bed;
  readonly choice: BedChoice;
  readonly runLimitM: number;
  readonly runLimitTraces: readonly Traced[];
  readonly parts: readonly BedLayout[];
}

/** What a bed's tubing depends on beside the bed itself. Identity of each is part of the cache key. */
const surroundings = (plan: Plan): readonly unknown[] => [
  plan.site,
  plan.settings,
  plan.structures,
  plan.trees,
  plan.plants,
  plan.sources,
  plan.valves,
  plan.display.units,
];

type Quality = LayoutInput['quality'];

/** A bed made ready for the router: everything before the route, and the route's own input with its value key. */
interface PreparedBed {
  readonly choice: BedChoice;
  readonly limit: RunLimit;
  readonly input: LayoutInput;
  readonly key: string;
}

const keyOf = (input: LayoutInput): string => JSON.stringify({ ...input, previous: null });

/** choose -> run limit -> area, for one bed. */
function prepareBed(
  plan: Plan,
  bed: Bed,
  catalog: Catalog,
  quality: Quality,
  cache: DesignCache,
): PreparedBed {
  const choice = cache.recall('choose', bed.id, [bed, catalog, plan.site, plan.settings], () =>
    chooseForBed({ bed, plan, catalog }),
  );
  const limit = cache.recall(
    'run-limit',
    bed.id,
    [choice.dripline, plan.settings, bed.slopeRatio],
    () =>
      runLimitM({
        dripline: choice.dripline,
        inletHeadM: setting(plan.settings, 'runInletHeadM'),
        slopeRatio: bed.slopeRatio ?? 0,
        uniformityRatio: setting(plan.settings, 'uniformityWantedRatio'),
        shape: 'loop',
      }),
    () => JSON.stringify([choice.dripline, plan.settings, bed.slopeRatio]),
  );
  // Only what is dragged keeps its last topology: a finished route must come out the same whatever was drawn before it.
  const remembered = quality === 'preview' ? lastParts(cache, bed.id) : [];
  const input = layoutInputFor({
    plan,
    bed,
    choice,
    catalog,
    runLimitM: limit.lengthM,
    quality,
    previous: remembered[0]?.memory ?? null,
  });
  // A finished route of the very same ground serves a preview as well, whatever else changed round it.
  const finished: LayoutInput = { ...input, quality: 'finished', previous: null };
  const isFinished = cache.knows('route', bed.id, keyOf(finished));
  return isFinished
    ? { choice, limit, input: finished, key: keyOf(finished) }
    : { choice, limit, input, key: keyOf(input) };
}

/** The bed as it was routed for this very plan, or null. While one bed is dragged, the others keep their finished route. */
const routedBefore = (
  plan: Plan,
  bed: Bed,
  catalog: Catalog,
  quality: Quality,
  cache: DesignCache,
): RoutedBed | null => {
  const inputs = [bed, catalog, ...surroundings(plan)];
  return (
    cache.peek<RoutedBed>('bed finished', bed.id, inputs) ??
    cache.peek<RoutedBed>(`bed ${quality}`, bed.id, inputs)
  );
};

/** choose -> run limit -> area and route, for one bed. */
export function routeBed(
  plan: Plan,
  bed: Bed,
  catalog: Catalog,
  quality: Quality,
  cache: DesignCache,
): RoutedBed {
  const before = routedBefore(plan, bed, catalog, quality, cache);
  if (before !== null) return before;
  return cache.recall(`bed ${quality}`, bed.id, [bed, catalog, ...surroundings(plan)], () => {
    const { choice, limit, input, key } = prepareBed(plan, bed, catalog, quality, cache);
    const parts = cache.recall(
      'route',
      bed.id,
      [input],
      () => layoutBed(input),
      () => key,
    );
    return { bed, choice, runLimitM: limit.lengthM, runLimitTraces: limit.traces, parts };
  });
}

/** A route that a design waits for: what `layoutBed` must be asked, and what the answer is remembered by. */
export interface WantedRoute {
  readonly bedId: string;
  readonly key: string;
  readonly input: LayoutInput;
}

/**
 * The routes that a design of this plan would have to find, in the order of its beds: so that they can be found elsewhere, side by
 * side, and given to `keepRoute`. Empty: the design asks the router nothing.
 */
export function wantedRoutes(
  drawn: Plan,
  catalog: Catalog,
  quality: Quality,
  cache: DesignCache,
): readonly WantedRoute[] {
  const plan = withNames(drawn);
  return Object.values(plan.beds)
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .filter((bed) => routedBefore(plan, bed, catalog, quality, cache) === null)
    .flatMap((bed) => {
      const { input, key } = prepareBed(plan, bed, catalog, quality, cache);
      return cache.knows('route', bed.id, key) ? [] : [{ bedId: bed.id, key, input }];
    });
}

/** Remembers a route that was found elsewhere. */
export function keepRoute(cache: DesignCache, wanted: WantedRoute, parts: readonly BedLayout[]): void {
  cache.recall(
    'route',
    wanted.bedId,
    [wanted.input],
    () => parts,
    () => wanted.key,
  );
}

/** The parts of this bed's last route, so that the next one may keep its topology. */
function lastParts(cache: DesignCache, bedId: string): readonly BedLayout[] {
  return cache.last<readonly BedLayout[]>('route', bedId) ?? [];
}
