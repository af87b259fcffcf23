import { soilOf } from './soils';
import { driplineTarget } from './targets';
import type { BedChoice } from './types';
import { type WettingRange, wettingRange } from './wetting';

/** What one emitter of a bed wets in the soil's stated running time, by both models, for drawing it in section. */
export function wettingOfChoice(choice: Pick<BedChoice, 'soil' | 'dripline'>): WettingRange {
  const soil = soilOf(choice.soil);
  return wettingRange({
    volumeM3: choice.dripline.emitterFlowM3s * driplineTarget(choice.soil).wettingTimeS,
    flowM3s: choice.dripline.emitterFlowM3s,
    conductivityMs: soil.saturatedConductivityMs.value,
    porosityRatio: soil.porosityRatio.value,
  });
}
