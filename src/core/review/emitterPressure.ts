import type { Problem } from '../units';
import type { Rule } from './types';
import { bedOfRun, emittersByBed, zoneParams } from './zones';

/**
 * The emitter worst off of each bed must have its least head. Limit: the emitter's own working range, from the catalogue.
 */
export const emitterBelowLeast: Rule = (input) =>
  input.supply.zones.flatMap((zone): Problem[] => {
    const bed = bedOfRun(input, zone.worstEmitter.runId);
    const limitM = bed?.choice.dripline.emitter.minHeadM ?? 0;
    if (!bed || zone.worstEmitter.headM >= limitM) return [];
    return [
      {
        code: 'review.emitter-below-least',
        severity: 'stop',
        where: { id: bed.sourceBedId, x: zone.worstEmitter.x, y: zone.worstEmitter.y },
        params: {
          ...zoneParams(zone),
          bed: bed.name,
          run: zone.worstEmitter.runId,
          headM: zone.worstEmitter.headM,
          limitHeadM: limitM,
          distanceM: zone.worstEmitter.distanceM,
        },
        value: zone.worstEmitter.headM,
        limit: limitM,
        unit: 'm of head',
        source: bed.choice.dripline.source,
      },
    ];
  });

/** No emitter may stand above its greatest head. Mend, where the valve is drawn: the same assembly at a lower setting. */
export const emitterAboveGreatest: Rule = (input) =>
  input.supply.zones.flatMap((zone) =>
    emittersByBed(input, zone).flatMap(({ bed, highest }): Problem[] => {
      const limitM = bed.choice.dripline.emitter.maxHeadM;
      if (highest.headM <= limitM) return [];
      const lower = input.catalog.assemblies
        .filter(
          (one) => one.class === zone.assembly.class && one.regulatedHeadM < zone.assembly.regulatedHeadM,
        )
        .sort((a, b) => b.regulatedHeadM - a.regulatedHeadM || (a.id < b.id ? -1 : 1))[0];
      const valve = input.plan.valves[zone.devices.find(({ kind }) => kind === 'valve-assembly')?.id ?? ''];
      return [
        {
          code: 'review.emitter-above-greatest',
          severity: 'stop',
          where: { id: bed.sourceBedId, x: highest.x, y: highest.y },
          params: { ...zoneParams(zone), bed: bed.name, headM: highest.headM, limitHeadM: limitM },
          value: highest.headM,
          limit: limitM,
          unit: 'm of head',
          source: bed.choice.dripline.source,
          ...(lower && valve
            ? {
                mends: [
                  {
                    words: 'review.mend-lower-setting',
                    command: 'change-items',
                    params: { items: [{ map: 'valves', id: valve.id }], changes: { assemblyId: lower.id } },
                  },
                ],
              }
            : {}),
        },
      ];
    }),
  );
