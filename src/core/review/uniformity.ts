import { setting, settingSource } from '../catalog';
import { spreadOf } from '../hydraulics';
import type { Problem } from '../units';
import type { Rule } from './types';
import { emitterHeights, zoneParams } from './zones';

/** Emission uniformity of each zone against the one wanted. Source of the figure: Keller and Karmeli (1974). */
export const uniformity: Rule = ({ supply, plan }) => {
  const wanted = setting(plan.settings, 'uniformityWantedRatio');
  return supply.zones
    .filter((zone) => zone.solution.status === 'settled' && zone.emissionUniformity < wanted - 5e-4)
    .map(
      (zone): Problem => ({
        code: 'review.uniformity-low',
        severity: 'warn',
        where: { id: zone.id, x: zone.worstEmitter.x, y: zone.worstEmitter.y },
        params: { ...zoneParams(zone), uniformityRatio: zone.emissionUniformity, wantedRatio: wanted },
        value: zone.emissionUniformity,
        limit: wanted,
        unit: 'ratio',
        source: settingSource(plan.settings, 'uniformityWantedRatio'),
      }),
    );
};

/**
 * The heights one zone spans. Plain tubing: the published 8 ft. Compensating tubing: what lies between the regulator's
 * setting and the emitter's least head, all of it lost to height alone.
 */
export const elevationSpread: Rule = ({ supply, plan }) =>
  supply.zones.flatMap((zone): Problem[] => {
    const laws = [...new Set(zone.network.nodes.flatMap(({ emitter }) => (emitter ? [emitter] : [])))];
    const heights = emitterHeights(zone);
    if (heights.length === 0) return [];
    const { min, max } = spreadOf(heights);
    const spreadM = max - min;
    const isPlain = laws.some(({ kind }) => kind === 'power');
    const limitM = isPlain
      ? setting(plan.settings, 'elevationSpreadPlainM')
      : zone.assembly.regulatedHeadM - Math.max(...laws.map(({ minHeadM }) => minHeadM));
    if (spreadM <= limitM) return [];
    return [
      {
        code: isPlain ? 'review.elevation-spread-plain' : 'review.elevation-spread',
        severity: 'warn',
        where: { id: zone.id, x: zone.worstEmitter.x, y: zone.worstEmitter.y },
        params: { ...zoneParams(zone), spreadM, limitM },
        value: spreadM,
        limit: limitM,
        unit: 'm',
        source: isPlain ? settingSource(plan.settings, 'elevationSpreadPlainM') : zone.assembly.source,
      },
    ];
  });
