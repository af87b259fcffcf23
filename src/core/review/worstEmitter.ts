import type { Rule } from './types';

/**
 * The emitter with the least pressure must be inside its working range.
 * Limit: the emitter's own least head, from the catalogue.
 */
export const worstEmitter: Rule = ({ supply, beds }) =>
  supply.zones.flatMap((zone) => {
    const bed = beds.find(({ layout }) => layout.runs.some((run) => run.id === zone.worstEmitter.runId));
    if (bed === undefined) return [];
    const limitM = bed.choice.dripline.emitter.minHeadM;
    if (zone.worstEmitter.headM >= limitM) return [];
    return [
      {
        code: 'review.emitter-below-least',
        severity: 'stop' as const,
        where: { id: bed.sourceBedId, x: zone.worstEmitter.x, y: zone.worstEmitter.y },
        params: {
          zoneName: zone.name,
          bedName: bed.name,
          headM: zone.worstEmitter.headM,
          limitM,
          distanceM: zone.worstEmitter.distanceM,
        },
        value: zone.worstEmitter.headM,
        limit: limitM,
        unit: 'm of head',
        source: bed.choice.dripline.source,
      },
    ];
  });
