import type { Problem } from '../units';
import type { Rule } from './types';
import { headAt, zoneParams } from './zones';

/** The regulator needs its least inlet head to hold its setting; below it the zone runs on whatever comes through. */
export const regulatorInlet: Rule = ({ supply }) =>
  supply.zones.flatMap((zone): Problem[] => {
    const inletM = headAt(zone, zone.readAt.regulatorInlet);
    const limitM = zone.assembly.regulatorMinInletHeadM;
    if (inletM === null || inletM >= limitM) return [];
    return [
      {
        code: 'review.regulator-short-of-inlet',
        severity: 'warn',
        where: { id: zone.id, x: zone.assemblyAt.x, y: zone.assemblyAt.y },
        params: {
          ...zoneParams(zone),
          headM: inletM,
          limitHeadM: limitM,
          settingHeadM: zone.assembly.regulatedHeadM,
        },
        value: inletM,
        limit: limitM,
        unit: 'm of head',
        source: zone.assembly.source,
      },
    ];
  });
