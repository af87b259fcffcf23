import type { Problem } from '../units';
import type { Rule } from './types';
import { zoneParams } from './zones';

/**
 * The zone's flow must lie inside the assembly's window: below it the valve may not close and the regulator may not
 * regulate, above it both lose too much. Mend, where the designer chose the assembly: let the program choose.
 */
export const assemblyWindow: Rule = ({ supply, plan }) =>
  supply.zones.flatMap((zone): Problem[] => {
    const { minFlowM3s, maxFlowM3s, source } = zone.assembly;
    const below = zone.flowM3s < minFlowM3s;
    if (!below && zone.flowM3s <= maxFlowM3s * 1.005) return [];
    const valve = plan.valves[zone.devices.find(({ kind }) => kind === 'valve-assembly')?.id ?? ''];
    return [
      {
        code: below ? 'review.flow-below-assembly' : 'review.flow-above-assembly',
        severity: below ? 'warn' : 'stop',
        where: { id: zone.id, x: zone.assemblyAt.x, y: zone.assemblyAt.y },
        params: { ...zoneParams(zone), flowM3s: zone.flowM3s, leastM3s: minFlowM3s, mostM3s: maxFlowM3s },
        value: zone.flowM3s,
        limit: below ? minFlowM3s : maxFlowM3s,
        unit: 'm3/s',
        source,
        ...(valve?.assemblyId
          ? {
              mends: [
                {
                  words: 'review.mend-choose-assembly',
                  command: 'change-items',
                  params: { items: [{ map: 'valves', id: valve.id }], changes: { assemblyId: null } },
                },
              ],
            }
          : {}),
      },
    ];
  });
