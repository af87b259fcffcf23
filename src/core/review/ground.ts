import { setting, settingSource } from '../catalog';
import type { SupplyDesign } from '../supply';
import type { Problem, Source } from '../units';
import type { Rule } from './types';

const BEFORE_DIGGING: Source = {
  text: 'US 811 or the local equivalent, 2 to 3 working days ahead; private lines are not marked; from memory',
  standing: 'from memory',
};

/** Always shown where anything is dug: buried lines are located first. */
export const locateFirst: Rule = ({ plan, supply }) =>
  supply.main.length + supply.zones.length === 0
    ? []
    : [
        {
          code: 'review.locate-before-digging',
          severity: 'note',
          where: {},
          params: { number: plan.project.oneCallNumber },
          source: BEFORE_DIGGING,
        },
      ];

/** What a trench carries, in the crew's terms: the number of the zone whose header it is, or nothing for the main. */
function trenchOf(supply: SupplyDesign, pipeId: string): { readonly zoneNumber?: number } {
  const zone = supply.zones.find(({ pipes }) => pipes.some((pipe) => pipe.id === pipeId));
  return zone === undefined ? {} : { zoneNumber: zone.number };
}

/** Each crossing of a trench with a known buried line. */
export const utilityCrossing: Rule = ({ plan, supply }) =>
  supply.crossings.map(
    ({ utilityId, at, pipeId }): Problem => ({
      code: 'review.utility-crossed',
      severity: 'warn',
      where: { id: utilityId, x: at.x, y: at.y },
      params: { utility: plan.utilities[utilityId]?.name || utilityId, ...trenchOf(supply, pipeId) },
      source: BEFORE_DIGGING,
    }),
  );

const CLAYS: ReadonlySet<string> = new Set([
  'clay',
  'silty-clay',
  'sandy-clay',
  'clay-loam',
  'silty-clay-loam',
]);

/** Tubing nearer a foundation than the default for its soil. Mend: the default offset. */
export const foundationOffset: Rule = ({ plan, beds }) =>
  beds.flatMap(({ sourceBedId, name, choice, layout }): Problem[] => {
    const bed = plan.beds[sourceBedId];
    if (!bed || layout.status !== 'routed') return [];
    const isClay = plan.site.expansiveSoil || CLAYS.has(choice.soil);
    const key = isClay ? 'offsetFoundationClayM' : 'offsetFoundationM';
    const limitM = setting(plan.settings, key);
    const edges = bed.rings.flatMap((ring) => ring.edges).filter((edge) => edge.class === 'foundation');
    const general = bed.offsetsM.foundation ?? null;
    const asked = [...edges.map(({ offsetM }) => offsetM ?? general), general].filter(
      (offset) => offset !== null,
    );
    const leastM = Math.min(...asked, Number.POSITIVE_INFINITY);
    if (leastM >= limitM - 1e-6) return [];
    return [
      {
        code: isClay ? 'review.foundation-offset-clay' : 'review.foundation-offset',
        severity: 'warn',
        where: { id: sourceBedId },
        params: { bed: name, offsetM: leastM, limitM },
        value: leastM,
        limit: limitM,
        unit: 'm',
        source: settingSource(plan.settings, key),
        mends: [
          {
            words: 'review.mend-default-offset',
            command: 'set-bed',
            params: {
              id: sourceBedId,
              changes: {
                offsetsM: { ...bed.offsetsM, foundation: limitM },
                rings: bed.rings.map((ring) => ({
                  ...ring,
                  edges: ring.edges.map((edge) =>
                    edge.class === 'foundation' ? { ...edge, offsetM: null } : edge,
                  ),
                })),
              },
            },
          },
        ],
      },
    ];
  });

/** Steep ground takes water slowly: over 25 % at most 0.75 in/h, unless no runoff is shown. */
export const steepRate: Rule = ({ plan, beds }) => {
  const slopeLimit = setting(plan.settings, 'steepSlopeRatio');
  const limitMs = setting(plan.settings, 'steepSlopeRateMs');
  return beds.flatMap((bed): Problem[] => {
    const slope = plan.beds[bed.sourceBedId]?.slopeRatio ?? 0;
    const rateMs = bed.applicationRateMs ?? bed.nominalApplicationRateMs;
    if (bed.layout.status !== 'routed' || slope <= slopeLimit || rateMs <= limitMs) return [];
    return [
      {
        code: 'review.steep-and-fast',
        severity: 'warn',
        where: { id: bed.sourceBedId },
        params: { bed: bed.name, slopeRatio: slope, rateMs, limitMs },
        value: rateMs,
        limit: limitMs,
        unit: 'm/s',
        source: settingSource(plan.settings, 'steepSlopeRateMs'),
      },
    ];
  });
};
