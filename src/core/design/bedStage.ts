import type { Catalog } from '../catalog';
import { setting } from '../catalog';
import { runLimitM } from '../hydraulics';
import { type BedLayout, layoutBed, layoutInputFor } from '../layout';
import type { Bed, Plan } from '../plan';
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

/** choose -> run limit -> area and route, for one bed. */
export function routeBed(
  plan: Plan,
  bed: Bed,
  catalog: Catalog,
  quality: 'preview' | 'finished',
  cache: DesignCache,
): RoutedBed {
  const inputs = [bed, catalog, ...surroundings(plan)];
  // A finished route serves a preview as well: while one bed is dragged, the others keep what they have.
  const finished = cache.peek<RoutedBed>('bed finished', bed.id, inputs);
  if (finished !== null) return finished;
  return cache.recall(`bed ${quality}`, bed.id, inputs, () => {
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
    const remembered = lastParts(cache, bed.id);
    const input = layoutInputFor({
      plan,
      bed,
      choice,
      catalog,
      runLimitM: limit.lengthM,
      quality,
      previous: remembered[0]?.memory ?? null,
    });
    const parts = cache.recall(
      'route',
      bed.id,
      [input],
      () => layoutBed(input),
      () => JSON.stringify({ ...input, previous: null }),
    );
    return { bed, choice, runLimitM: limit.lengthM, runLimitTraces: limit.traces, parts };
  });
}

/** The parts of this bed's last route, so that the next one may keep its topology. */
function lastParts(cache: DesignCache, bedId: string): readonly BedLayout[] {
  return cache.last<readonly BedLayout[]>('route', bedId) ?? [];
}
