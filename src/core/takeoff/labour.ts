import { type SettingKey, setting, settingSource } from '../catalog';
import type { Plan } from '../plan';
import type { SiUnit, Source } from '../units';
import type { Takeoff } from './types';

/** What a crew does, counted. */
export interface Work {
  readonly tubingM: number;
  readonly staples: number;
  readonly fittings: number;
  readonly trenchM: number;
  readonly sleeveM: number;
  readonly assemblies: number;
  readonly wireM: number;
  readonly controllers: number;
  readonly zones: number;
}

/** Task (a code that `core/words` names), what it counts, its unit, and the setting that holds its hours. */
const TASKS: readonly (readonly [task: string, of: keyof Work, unit: SiUnit, rate: SettingKey])[] = [
  ['lay-tubing', 'tubingM', 'm', 'labourTubingHoursPerM'],
  ['set-staples', 'staples', 'count', 'labourStapleHoursEach'],
  ['make-joins', 'fittings', 'count', 'labourFittingHoursEach'],
  ['trench-and-pipe', 'trenchM', 'm', 'labourTrenchHoursPerM'],
  ['set-sleeves', 'sleeveM', 'm', 'labourSleeveHoursPerM'],
  ['set-assemblies', 'assemblies', 'count', 'labourAssemblyHoursEach'],
  ['pull-wire', 'wireM', 'm', 'labourWireHoursPerM'],
  ['set-controller', 'controllers', 'count', 'labourControllerHoursEach'],
  ['flush-and-test', 'zones', 'count', 'labourFlushAndTestHoursPerZone'],
];

/** Hours of work by task; the hours for one unit are settings the designer may change. */
export function labourOf(work: Work, settings: Plan['settings']): Takeoff['labour'] {
  return TASKS.filter(([, of]) => work[of] > 0).map(([task, of, unit, key]) => {
    const rate = setting(settings, key);
    return { task, hours: work[of] * rate, quantity: work[of], unit, rate };
  });
}

/** Where the hours for one unit of a task come from. Fails: throws for a task there is none of. */
export function labourSource(task: string, settings: Plan['settings']): Source {
  const row = TASKS.find(([name]) => name === task);
  if (!row) throw new Error(`no task is called ${task}`);
  return settingSource(settings, row[3]);
}
