import { setting } from '../catalog';
import type { Plan } from '../plan';
import type { Params, Source } from '../units';
import { SOURCES } from './sources';

/** When a task falls due. */
export type UpkeepSeason = 'first-season' | 'every-year' | 'before-frost';

/** One thing the owner does, as data: `core/words` says it, the owner's card prints it. */
export interface UpkeepTask {
  /** Code of its sentence: what is done, why, and how. */
  readonly code: string;
  readonly season: UpkeepSeason;
  /** How often in that season or year; null: whenever it arises. */
  readonly times: number | null;
  readonly params: Params;
  readonly source: Source;
}

const FLUSHING: Source = {
  text: 'University of California ANR, Maintenance of Microirrigation Systems: flush until clear; how often is common practice',
  standing: 'common practice',
};
const FREEZING: Source = {
  text: 'usual winterizing practice, from memory; local advice first',
  standing: 'from memory',
};
const BACKFLOW: Source = {
  text: '30 TAC 344.50: tested when installed; how often after is local code',
  standing: 'published',
};
const DIRTY_WATER: Source = {
  text: 'usual advice for wells, tanks and recycled water, from memory',
  standing: 'from memory',
};

type Row = readonly [
  name: string,
  season: UpkeepSeason,
  times: number | null,
  source: Source,
  params?: Params,
];

const ALWAYS: readonly Row[] = [
  ['first-flush', 'first-season', 1, FLUSHING],
  ['first-filter', 'first-season', 1, SOURCES.practice],
  ['first-walk', 'first-season', 6, SOURCES.practice],
  ['first-calendar', 'first-season', 12, SOURCES.practice],
  ['first-settling', 'first-season', 1, SOURCES.practice],
  ['shut-off', 'every-year', null, SOURCES.practice],
  ['flush', 'every-year', 2, FLUSHING],
  ['filter', 'every-year', 2, SOURCES.practice],
  ['walk', 'every-year', 6, SOURCES.practice],
  ['flow', 'every-year', 1, SOURCES.practice],
  ['calendar', 'every-year', 12, SOURCES.practice],
  ['backflow-test', 'every-year', 1, BACKFLOW],
  ['dig', 'every-year', null, SOURCES.practice],
  ['winter-shut', 'before-frost', 1, FREEZING],
  ['winter-blow-out', 'before-frost', 1, FREEZING],
  ['winter-open', 'before-frost', 1, FREEZING],
];

const BY_WATER: Readonly<Record<string, readonly Row[]>> = {
  well: [['sandy-water', 'every-year', 4, DIRTY_WATER]],
  tank: [['tank-clean', 'every-year', 1, DIRTY_WATER]],
  recycled: [
    ['sandy-water', 'every-year', 4, DIRTY_WATER],
    ['recycled-signs', 'every-year', 1, DIRTY_WATER],
  ],
};

/**
 * What the owner of this plan's irrigation does in its first season, every year, and before frost, in the order of the
 * card. Water from wells, tanks and purple pipe asks for more. Each task says where it comes from.
 */
export function upkeepTasks(plan: Plan): readonly UpkeepTask[] {
  const [sourceId] = Object.keys(plan.sources).sort();
  const water = sourceId === undefined ? undefined : plan.sources[sourceId]?.water;
  const mulch: Row = [
    'mulch',
    'every-year',
    1,
    SOURCES.mulch,
    { depthM: setting(plan.settings, 'mulchDepthM') },
  ];
  return [...ALWAYS, mulch, ...(BY_WATER[water ?? ''] ?? [])].map(
    ([name, season, times, source, params]) => ({
      code: `soilwater.task-${name}`,
      season,
      times,
      params: params ?? {},
      source,
    }),
  );
}
