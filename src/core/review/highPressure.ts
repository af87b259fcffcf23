import { setting, settingSource } from '../catalog';
import { sourceOf } from '../supply';
import type { Problem } from '../units';
import type { Rule } from './types';

/** Static pressure above the limit needs a master regulator before anything is built. */
export const staticPressure: Rule = ({ plan }) => {
  const source = sourceOf(plan);
  const heads = [source?.staticHeadM, source?.highestStaticHeadM].filter(
    (head) => head !== null && head !== undefined,
  );
  const highestM = Math.max(0, ...heads);
  const limitM = setting(plan.settings, 'highestStaticHeadM');
  if (!source || highestM <= limitM * 1.0005) return [];
  return [
    {
      code: 'review.static-too-high',
      severity: 'stop',
      where: { id: source.id, x: source.at.x, y: source.at.y },
      params: { headM: highestM, limitHeadM: limitM },
      value: highestM,
      limit: limitM,
      unit: 'm of head',
      source: settingSource(plan.settings, 'highestStaticHeadM'),
    },
  ];
};

/** Every length of main must bear the year's highest pressure at rest, at its lowest point. */
export const pipeRating: Rule = ({ plan, supply }) => {
  const source = sourceOf(plan);
  const staticM = source?.highestStaticHeadM ?? source?.staticHeadM ?? null;
  if (!source || staticM === null) return [];
  return supply.main.flatMap((pipe): Problem[] => {
    const zone = supply.zones.find(({ network }) => network.links.some(({ id }) => id === pipe.id));
    const link = zone?.network.links.find(({ id }) => id === pipe.id);
    const nodes = zone?.network.nodes ?? [];
    const supplyNode = nodes.find(({ fixedHeadM }) => fixedHeadM !== undefined);
    const ends = nodes.filter(({ id }) => id === link?.from || id === link?.to);
    if (!supplyNode || ends.length === 0) return [];
    const lowestM = Math.min(...ends.map(({ elevationM }) => elevationM));
    const headM = staticM + supplyNode.elevationM - lowestM;
    if (headM <= pipe.pipe.maxHeadM) return [];
    return [
      {
        code: 'review.pipe-over-rating',
        severity: 'stop',
        where: { id: pipe.id, x: pipe.path[0]!.x, y: pipe.path[0]!.y },
        params: { pipe: `${pipe.pipe.name} ${pipe.pipe.nominal}`, headM, limitHeadM: pipe.pipe.maxHeadM },
        value: headM,
        limit: pipe.pipe.maxHeadM,
        unit: 'm of head',
        source: pipe.pipe.source,
      },
    ];
  });
};
