import { setting, settingSource } from '../catalog';
import type { Problem } from '../units';
import type { Rule } from './types';

/** Water in mains and headers must not run faster than the limit: surge and loss grow with it. Mend: let the size be chosen. */
export const velocity: Rule = ({ supply, plan }) => {
  const limitMs = setting(plan.settings, 'velocityLimitMs');
  const pipes = [...supply.main, ...supply.zones.flatMap(({ pipes: own }) => own)];
  return pipes
    .filter(({ velocityMs }) => velocityMs > limitMs * 1.005)
    .map((pipe): Problem => {
      const middle = pipe.path[Math.floor(pipe.path.length / 2)];
      const drawn = pipe.locked
        ? Object.values(plan.lockedPipes).filter(
            ({ role, pipeId }) => role === pipe.role && pipeId === pipe.pipe.id,
          )
        : [];
      return {
        code: 'review.velocity-over-limit',
        severity: 'warn',
        where: middle ? { id: pipe.id, x: middle.x, y: middle.y } : { id: pipe.id },
        params: {
          pipe: `${pipe.pipe.name} ${pipe.pipe.nominal}`,
          velocityMs: pipe.velocityMs,
          limitMs,
          flowM3s: pipe.flowM3s,
        },
        value: pipe.velocityMs,
        limit: limitMs,
        unit: 'm/s',
        source: settingSource(plan.settings, 'velocityLimitMs'),
        ...(drawn.length > 0
          ? {
              mends: [
                {
                  words: 'review.mend-choose-size',
                  command: 'change-items',
                  params: {
                    items: drawn.map(({ id }) => ({ map: 'lockedPipes', id })),
                    changes: { pipeId: null },
                  },
                },
              ],
            }
          : {}),
      };
    });
};
