import { type SettingKey, setting, settingSource } from '../catalog';
import type { BedLayout } from '../layout';
import type { Plan } from '../plan';
import type { Source } from '../units';

const LOOSE: ReadonlySet<string> = new Set(['sand', 'loamy-sand']);
const FIRM: ReadonlySet<string> = new Set(['clay', 'silty-clay', 'sandy-clay']);
/** One staple on each side of every turn and tee. Common practice, no source. */
const AT_A_TURN = 2;
/** Twice as many on slopes. Common practice, no source. */
const ON_A_SLOPE = 2;

function governing(soil: string, settings: Plan['settings']): SettingKey {
  const key = LOOSE.has(soil) ? 'stapleSandM' : FIRM.has(soil) ? 'stapleClayM' : 'stapleLoamM';
  return setting(settings, key) <= setting(settings, 'stapleWidestM') ? key : 'stapleWidestM';
}

/** Farthest apart staples may stand in this soil, metres. */
export const stapleSpacingM = (soil: string, settings: Plan['settings']): number =>
  setting(settings, governing(soil, settings));

/** Where that distance comes from. */
export const stapleSource = (soil: string, settings: Plan['settings']): Source =>
  settingSource(settings, governing(soil, settings));

/**
 * Staples of one bed: along every run by soil, one each side of every turn and every join, doubled along slopes.
 *
 * @param slopeRatio  rise over run of the bed, 0 where it is flat or not said
 */
export function stapleCount(
  layout: BedLayout,
  soil: string,
  slopeRatio: number,
  settings: Plan['settings'],
): number {
  const spacingM = stapleSpacingM(soil, settings);
  const isSteep = slopeRatio > setting(settings, 'stapleSteepSlopeRatio');
  const along = layout.runs.map((run) => Math.ceil(run.lengthM / spacingM - 1e-9) + (run.closed ? 0 : 1));
  const total = along.reduce((sum, count) => sum + count, 0) * (isSteep ? ON_A_SLOPE : 1);
  const turns = layout.runs.reduce((sum, run) => sum + run.turns, 0);
  return total + AT_A_TURN * (turns + layout.joins.length);
}
