import type { Catalog } from '../catalog';
import type { BedLayout } from '../layout';
import { bedMark, type Plan, withNames } from '../plan';
import { reviewDesign } from '../review';
import {
  buildSchedule,
  hydrozonesOf,
  nominalApplicationRateMs,
  type Schedule,
  type WaterBudget,
  waterBudget,
} from '../soilwater';
import { groundOf, type ServedBed, type SupplyDesign, supplySteps } from '../supply';
import { takeOff } from '../takeoff';
import { allSteps, type Problem, type Steps } from '../units';
import { type RoutedBed, routeBed } from './bedStage';
import { createDesignCache, type DesignCache } from './cache';
import { feedsOf, withPartsForFeeds } from './feeds';
import { sortFindings } from './findings';
import { flowByBed, laidApplicationRateMs } from './rates';
import type { Design, DesignedBed } from './types';

export interface DesignOptions {
  /** `preview` while something is dragged; `finished` otherwise. */
  readonly quality: 'preview' | 'finished';
  /** Kept between designs of the same plan; a fresh one when absent. */
  readonly cache?: DesignCache;
  /**
   * The plan that the given one is a part of, where some beds are left out for now: beds keep the letters they have there, and the
   * routes of those left out stay remembered.
   */
  readonly whole?: Plan;
  /** Told before each stage, with the share of the work done, 0..1. */
  readonly onProgress?: (stage: string, doneRatio: number) => void;
}

interface Part {
  readonly routed: RoutedBed;
  readonly layout: BedLayout;
  readonly name: string;
  readonly mark: string;
}

const byId = <T extends { readonly id: string }>(items: Readonly<Record<string, T>>): T[] =>
  Object.values(items).sort((a, b) => (a.id < b.id ? -1 : 1));

/** Beds in the order of their ids, each with the letter it carries on the sheet; parts of a repaired bed share it. */
function partsOf(routed: readonly RoutedBed[], bedIds: readonly string[]): Part[] {
  return routed.flatMap((bed) =>
    bed.parts.map((layout, part) => {
      const suffix = bed.parts.length > 1 ? String(part + 1) : '';
      return {
        routed: bed,
        layout,
        name: bed.bed.name + (suffix === '' ? '' : ` ${suffix}`),
        mark: bedMark(bedIds.indexOf(bed.bed.id)) + suffix,
      };
    }),
  );
}

/** What the heights of a plan rest on, as text: equal text means equal ground. */
const groundKey = (plan: Plan): string =>
  JSON.stringify([
    plan.spots,
    [...byId(plan.sources), ...byId(plan.valves)].map((item) => [item.at, item.elevationM]),
    byId(plan.beds)
      .filter((bed) => bed.elevationM !== null || bed.slopeRatio !== null)
      .map((bed) => [bed.id, bed.elevationM, bed.slopeRatio, bed.slopeTowardRad, bed.rings[0]?.points]),
    plan.georeference?.bearingRad ?? 0,
  ]);

/** Routed parts as the supply stage takes them; a part that did not change keeps its identity, so that its zone does. */
function servedBeds(plan: Plan, parts: readonly Part[], cache: DesignCache): ServedBed[] {
  const ground = cache.recall(
    'ground',
    'plan',
    [plan.spots, plan.beds, plan.sources, plan.valves],
    () => groundOf(plan),
    () => groundKey(plan),
  );
  return parts
    .filter((part) => part.layout.status === 'routed')
    .flatMap(({ routed, layout, name }) =>
      cache.recall('serve', layout.bedId, [routed.bed, routed.choice, layout, ground], () =>
        feedsOf(layout).map((feed) => ({
          bedId: feed.bedId,
          name,
          plants: routed.choice.plants,
          sun: routed.choice.sun,
          soil: routed.choice.soil,
          slopeRatio: routed.bed.slopeRatio ?? 0,
          waterFactor: (routed.bed.densityFactor ?? 1) * (routed.bed.microclimateFactor ?? 1),
          elevationM: routed.bed.elevationM ?? ground.at(feed.stubUp),
          zoneKey: routed.bed.zoneKey,
          dripline: routed.choice.dripline,
          layout: feed,
          elevationAt: ground.inBed(routed.bed.id),
        })),
      ),
    );
}

/** A bed part with what its route alone gives: no zone, no solved rate. */
const bareBed = ({ routed, layout, name, mark }: Part): DesignedBed => ({
  id: layout.bedId,
  sourceBedId: routed.bed.id,
  name,
  mark,
  choice: routed.choice,
  runLimitM: routed.runLimitM,
  layout,
  applicationRateMs: null,
  nominalApplicationRateMs: nominalApplicationRateMs(routed.choice.dripline, layout.rowSpacingM),
  zoneId: null,
});

function designedBeds(parts: readonly Part[], supply: SupplyDesign): DesignedBed[] {
  const flows = flowByBed(
    parts.map((part) => part.layout),
    supply.zones,
  );
  return parts.map((part) => ({
    ...bareBed(part),
    applicationRateMs: laidApplicationRateMs(part.layout, flows.get(part.layout.bedId)),
    zoneId: supply.zones.find((zone) => zone.bedIds.includes(part.layout.bedId))?.id ?? null,
  }));
}

function waterOf(
  plan: Plan,
  beds: readonly DesignedBed[],
  supply: SupplyDesign,
): { schedule: Schedule; budget: WaterBudget } {
  const parts = beds.map((bed) => bed.layout);
  const wholeFlow = flowByBed(parts, supply.zones);
  const schedule = buildSchedule({
    plan,
    beds: supply.zones.flatMap((zone) => {
      const flow = flowByBed(parts, [zone]);
      return beds
        .filter((bed) => zone.bedIds.includes(bed.id))
        .map((bed) => ({
          bedId: bed.sourceBedId,
          zoneId: zone.id,
          areaM2: (bed.layout.usableAreaM2 * (flow.get(bed.id) ?? 0)) / (wholeFlow.get(bed.id) ?? 1),
          choice: bed.choice,
          applicationRateMs: bed.applicationRateMs ?? bed.nominalApplicationRateMs,
        }));
    }),
    zones: supply.zones.map((zone) => ({ zoneId: zone.id, flowM3s: zone.flowM3s })),
    usableFlowM3s: supply.usableFlowM3s,
  });
  const budget = waterBudget({
    plan,
    hydrozones: hydrozonesOf(
      plan,
      beds.map((bed) => ({ zoneId: bed.zoneId, areaM2: bed.layout.areaM2, choice: bed.choice })),
    ),
  });
  return { schedule, budget };
}

/** The plan as every stage sees it: nothing it speaks of lacks a name. Beds of a part keep the names they have in the whole. */
function namedPlan(plan: Plan, whole: Plan | undefined): Plan {
  if (whole === undefined) return withNames(plan);
  const named = withNames(whole);
  const beds = Object.entries(named.beds).filter(([id]) => Object.hasOwn(plan.beds, id));
  return { ...named, beds: Object.fromEntries(beds) };
}

/** The beds of a plan routed, in the order of their ids. */
function routedParts(plan: Plan, catalog: Catalog, options: DesignOptions, cache: DesignCache) {
  const tell = options.onProgress ?? (() => undefined);
  const bedList = byId(plan.beds);
  const bedIds = byId((options.whole ?? plan).beds).map((bed) => bed.id);
  cache.forget(bedIds);
  const routed = bedList.map((bed, index) => {
    tell('route', (0.7 * index) / bedList.length);
    return routeBed(plan, bed, catalog, options.quality, cache);
  });
  return { routed, parts: partsOf(routed, bedIds) };
}

/**
 * The beds of a plan as far as their own tubing, before any water is led to them: no zone and no solved rate. So that a route can
 * be shown while the rest is still being worked out.
 */
export function routedBeds(plan: Plan, catalog: Catalog, options: DesignOptions): readonly DesignedBed[] {
  return routedParts(withNames(plan), catalog, options, options.cache ?? createDesignCache()).parts.map(
    bareBed,
  );
}

/**
 * The one pipeline: a plan and a catalogue in, the whole design out. Every stage is a function of its input; a bed or a zone
 * is computed again only when what it depends on has changed.
 */
export function designPlan(plan: Plan, catalog: Catalog, options: DesignOptions): Design {
  return allSteps(designSteps(plan, catalog, options));
}

/** The one pipeline, stopping after each stage and within the longest, so that whoever runs it can do something else in between. */
export function* designSteps(drawn: Plan, catalog: Catalog, options: DesignOptions): Steps<Design> {
  const cache = options.cache ?? createDesignCache();
  const tell = options.onProgress ?? (() => undefined);
  const plan = namedPlan(drawn, options.whole);
  const { routed, parts } = routedParts(plan, catalog, options, cache);
  yield;
  tell('supply', 0.7);
  const supply = withPartsForFeeds(
    yield* supplySteps({
      plan,
      catalog,
      beds: servedBeds(plan, parts, cache),
      quality: options.quality,
      recallInSteps: cache.recallInSteps,
      peek: cache.peek,
    }),
    cache.recall,
  );
  const beds = designedBeds(parts, supply);
  yield;
  tell('water', 0.9);
  const { schedule, budget } = waterOf(plan, beds, supply);
  yield;
  const takeoff = takeOff({
    plan,
    catalog,
    beds: beds.map((bed) => ({
      id: bed.id,
      name: bed.name,
      dripline: bed.choice.dripline,
      layout: bed.layout,
      soil: bed.choice.soil,
    })),
    supply,
  });
  yield;
  tell('review', 0.95);
  const found = reviewDesign({ plan, catalog, beds, supply, schedule, waterBudget: budget });
  const problems: Problem[] = [
    ...beds.flatMap((bed) => [...bed.choice.reasons, ...bed.layout.problems]),
    ...supply.problems,
    ...supply.zones.flatMap((zone) => zone.problems),
    ...schedule.problems,
    ...budget.problems,
    ...takeoff.problems,
    ...found,
  ];
  const traces = [
    ...routed.flatMap((bed) => [...bed.choice.traces, ...bed.runLimitTraces]),
    ...supply.traces,
    ...supply.zones.flatMap((zone) => zone.traces),
    ...schedule.traces,
    ...budget.traces,
  ];
  return {
    plan: drawn,
    catalog,
    beds,
    supply,
    schedule,
    waterBudget: budget,
    takeoff,
    findings: sortFindings(problems),
    traces,
    quality: options.quality,
    foresight: null,
  };
}
