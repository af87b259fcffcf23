import { settingSource } from '../catalog';
import { deviceHeadM } from '../hydraulics';
import type { Problem } from '../units';
import type { Rule } from './types';
import { zoneParams } from './zones';

const SOLVED = {
  text: 'solved at the operating point, at the lowest pressure of the year',
  standing: 'ours',
} as const;

/** The source must give at the connection what the emitter worst off needs. */
export const sourcePressure: Rule = ({ supply, plan }) => {
  const sourceId = Object.keys(plan.sources).sort()[0];
  return supply.zones
    .filter(
      (zone) =>
        zone.solution.status === 'settled' && zone.requiredSourceHeadM > zone.availableSourceHeadM + 0.01,
    )
    .map(
      (zone): Problem => ({
        code: 'review.source-short',
        severity: 'stop',
        where: { id: sourceId ?? zone.id },
        params: {
          ...zoneParams(zone),
          requiredHeadM: zone.requiredSourceHeadM,
          availableHeadM: zone.availableSourceHeadM,
        },
        value: zone.availableSourceHeadM,
        limit: zone.requiredSourceHeadM,
        unit: 'm of head',
        source: SOLVED,
      }),
    );
};

/** A zone must not draw more than the flow that may be counted on. */
export const sourceFlow: Rule = ({ supply, plan }) => {
  const limit = supply.usableFlowM3s;
  if (limit === null) return [];
  return supply.zones
    .filter(({ flowM3s }) => flowM3s > limit * 1.02)
    .map(
      (zone): Problem => ({
        code: 'review.flow-over-usable',
        severity: 'stop',
        where: { id: zone.id, x: zone.assemblyAt.x, y: zone.assemblyAt.y },
        params: { ...zoneParams(zone), flowM3s: zone.flowM3s, limitM3s: limit },
        value: zone.flowM3s,
        limit,
        unit: 'm3/s',
        source: settingSource(plan.settings, 'measuredFlowShareRatio'),
      }),
    );
};

/** The zone should still be served when its filter is as dirty as it may get before it is cleaned. */
export const loadedFilter: Rule = ({ supply }) =>
  supply.zones.flatMap((zone): Problem[] => {
    const { filterLossClean, filterLossLoaded, source } = zone.assembly;
    const extraM = deviceHeadM(filterLossLoaded, zone.flowM3s) - deviceHeadM(filterLossClean, zone.flowM3s);
    const marginM = zone.availableSourceHeadM - zone.requiredSourceHeadM;
    if (zone.solution.status !== 'settled' || marginM < 0 || marginM >= extraM) return [];
    return [
      {
        code: 'review.short-when-filter-loaded',
        severity: 'warn',
        where: { id: zone.id, x: zone.assemblyAt.x, y: zone.assemblyAt.y },
        params: { ...zoneParams(zone), marginHeadM: marginM, extraHeadM: extraM },
        value: marginM,
        limit: extraM,
        unit: 'm of head',
        source,
      },
    ];
  });
