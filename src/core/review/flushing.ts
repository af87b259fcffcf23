import { setting, settingSource } from '../catalog';
import { distanceToRingM, ringsOf } from '../geometry';
import type { Problem } from '../units';
import type { Rule } from './types';
import { bedOfRun, zoneParams } from './zones';

/** Both legs that meet at a flush point must run fast enough to carry dirt out. */
export const flushVelocity: Rule = (input) => {
  const limitMs = setting(input.plan.settings, 'flushVelocityMs');
  return input.supply.zones.flatMap((zone) =>
    zone.flush
      .filter(({ ok }) => !ok)
      .map((point): Problem => {
        const bed = bedOfRun(input, point.runId);
        return {
          code: 'review.flush-too-slow',
          severity: 'warn',
          where: { id: bed?.sourceBedId ?? zone.id, x: point.at.x, y: point.at.y },
          params: {
            ...zoneParams(zone),
            bed: bed?.name ?? '',
            run: point.runId,
            velocityMs: point.endVelocityMs,
            limitMs,
          },
          value: point.endVelocityMs,
          limit: limitMs,
          unit: 'm/s',
          source: settingSource(input.plan.settings, 'flushVelocityMs'),
        };
      }),
  );
};

/** A flush valve should be within reach of the bed's edge, so that it is found and used. */
export const flushReach: Rule = (input) => {
  const limitM = setting(input.plan.settings, 'flushReachM');
  return input.supply.zones.flatMap((zone) =>
    zone.flush.flatMap((point): Problem[] => {
      const bed = bedOfRun(input, point.runId);
      if (!bed) return [];
      const awayM = Math.min(...ringsOf(bed.layout.outline).map((ring) => distanceToRingM(point.at, ring)));
      if (awayM <= limitM + 0.01) return [];
      return [
        {
          code: 'review.flush-out-of-reach',
          severity: 'note',
          where: { id: bed.sourceBedId, x: point.at.x, y: point.at.y },
          params: { bed: bed.name, run: point.runId, distanceM: awayM, limitM },
          value: awayM,
          limit: limitM,
          unit: 'm',
          source: settingSource(input.plan.settings, 'flushReachM'),
        },
      ];
    }),
  );
};
