import { mixesHighAndLow } from '../supply';
import type { Problem, Source } from '../units';
import type { ReviewedBed, Rule } from './types';
import { zoneParams } from './zones';

const ORDINANCE: Source = { text: '23 CCR 492.7(a)(2)', standing: 'published' };

const unlock = (beds: readonly ReviewedBed[]) => ({
  mends: [
    {
      words: 'review.mend-let-zones-be-chosen',
      command: 'change-items',
      params: {
        items: beds.map(({ sourceBedId }) => ({ map: 'beds', id: sourceBedId })),
        changes: { zoneKey: null },
      },
    },
  ],
});

/** One valve gives all its beds the same water: high and low need never share it; sun, soil and need should agree. */
export const zoneMix: Rule = ({ supply, beds }) =>
  supply.zones.flatMap((zone): Problem[] => {
    const own = beds.filter(({ id }) => zone.bedIds.includes(id));
    const kinds = new Set(own.map(({ choice }) => [choice.plants, choice.sun, choice.soil].join('|')));
    if (kinds.size < 2) return [];
    const isForbidden = mixesHighAndLow(own.map(({ choice }) => choice.plants));
    return [
      {
        code: isForbidden ? 'review.high-and-low-on-one-valve' : 'review.mixed-zone',
        severity: isForbidden ? 'stop' : 'warn',
        where: { id: zone.id, x: zone.assemblyAt.x, y: zone.assemblyAt.y },
        params: { ...zoneParams(zone), beds: own.map(({ name }) => name) },
        source: ORDINANCE,
        ...unlock(own),
      },
    ];
  });

/** Every bed must be on a valve. */
export const bedWithoutZone: Rule = ({ beds }) =>
  beds
    .filter(({ zoneId }) => zoneId === null)
    .map(
      (bed): Problem => ({
        code: 'review.bed-without-zone',
        severity: 'stop',
        where: { id: bed.sourceBedId, x: bed.layout.stubUp.x, y: bed.layout.stubUp.y },
        params: { bed: bed.name },
      }),
    );

/** A route the verifier did not pass is never shown as good. */
export const routeVerified: Rule = ({ beds }) =>
  beds
    .filter(({ layout }) => layout.status === 'routed' && !layout.verified.passed)
    .map(
      (bed): Problem => ({
        code: 'review.route-not-verified',
        severity: 'stop',
        where: { id: bed.sourceBedId },
        params: { bed: bed.name, failures: [...bed.layout.verified.failures] },
        source: {
          text: 'ours: every route is measured again by code that shares nothing with the router',
          standing: 'ours',
        },
      }),
    );
