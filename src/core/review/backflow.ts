import { spreadOf } from '../hydraulics';
import { sourceOf } from '../supply';
import type { Problem, Source } from '../units';
import type { Rule } from './types';
import { emitterHeights } from './zones';

const CODES: Source = {
  text: '30 TAC 344.51; heights as in Paris TX and Ponca NE codes; they differ by place: local code decides',
  standing: 'published',
};

/** Always shown: which protection is allowed is the local code's to say; where none was chosen, one is proposed. */
export const backflowProtection: Rule = ({ plan, supply }) => {
  const source = sourceOf(plan);
  const isChosen = source?.backflowId != null;
  const { backflow } = supply;
  return [
    {
      code: isChosen ? 'review.backflow-local-code' : 'review.backflow-not-chosen',
      severity: isChosen ? 'note' : 'warn',
      where: source ? { id: source.id, x: source.at.x, y: source.at.y } : {},
      params: { backflow: backflow?.name ?? '' },
      source: CODES,
      ...(source && backflow && !isChosen
        ? {
            mends: [
              {
                words: 'review.mend-take-backflow',
                command: 'change-items',
                params: { items: [{ map: 'sources', id: source.id }], changes: { backflowId: backflow.id } },
              },
            ],
          }
        : {}),
    },
  ];
};

/** A vacuum breaker must stand above the highest emitter by its own height, or another type must be taken. */
export const backflowHeight: Rule = ({ plan, supply, catalog }) => {
  const { backflow } = supply;
  const source = sourceOf(plan);
  const aboveM = backflow?.minHeightAboveHighestOutletM ?? null;
  const heights = supply.zones.flatMap(emitterHeights);
  if (!backflow || !source || aboveM === null || heights.length === 0) return [];
  const sourceNode = supply.zones[0]?.network.nodes.find(({ fixedHeadM }) => fixedHeadM !== undefined);
  const groundM = source.elevationM ?? sourceNode?.elevationM ?? 0;
  const riserM = spreadOf(heights).max + aboveM - groundM;
  const isAbove = riserM <= aboveM + 1e-6;
  const pressureType = catalog.backflows.find(
    ({ type, sizeM }) => type === 'reduced-pressure' && sizeM === backflow.sizeM,
  );
  const problem: Problem = {
    code: isAbove ? 'review.backflow-height' : 'review.backflow-below-highest-emitter',
    severity: isAbove ? 'note' : 'stop',
    where: { id: source.id, x: source.at.x, y: source.at.y },
    params: { backflow: backflow.name, heightM: Math.max(riserM, 0), aboveM },
    value: riserM,
    limit: aboveM,
    unit: 'm',
    source: CODES,
  };
  if (isAbove || !pressureType) return [problem];
  return [
    {
      ...problem,
      mends: [
        {
          words: 'review.mend-reduced-pressure',
          command: 'change-items',
          params: { items: [{ map: 'sources', id: source.id }], changes: { backflowId: pressureType.id } },
        },
      ],
    },
  ];
};

/** Recycled water is marked wherever it can be seen or drunk, and never joined to drinking water. */
export const recycledWater: Rule = ({ plan }) => {
  const source = sourceOf(plan);
  if (source?.water !== 'recycled') return [];
  return ['review.recycled-marking', 'review.recycled-cross-connection'].map((code) => ({
    code,
    severity: 'warn',
    where: { id: source.id, x: source.at.x, y: source.at.y },
    params: {},
    source: {
      text: 'usual recycled water rules, from memory; the local purveyor decides',
      standing: 'from memory',
    },
  }));
};
