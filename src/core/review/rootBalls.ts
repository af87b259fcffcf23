import { pointInMultiPolygon } from '../geometry';
import { shiftRowToward, worstWetDistanceM } from '../layout';
import type { Plant } from '../plan';
import { wettingOfChoice } from '../soilwater';
import type { Mend, Problem, Source } from '../units';
import type { ReviewedBed, Rule } from './types';

const MODELS: Source = {
  text: 'two wetting models (Schwartzman and Zur 1986; Amin and Ekhmaj 2006), at the worst place of the emitters along the rows',
  standing: 'published',
};

/** How far wet soil stays from one root ball at the worst emitter phase, m; 0 where it reaches the ball. */
export interface RootBallReach {
  readonly plantId: string;
  /** From the plant's middle to the nearest emitter. */
  readonly emitterM: number;
  /** From the ball to wet soil by the model that wets less, and by the one that wets more. */
  readonly dryM: { readonly most: number; readonly least: number };
}

/** The reach of wet soil to one plant of a bed. Source: geometry; wetted widths by both models of `soilwater`. */
export function rootBallReach(bed: ReviewedBed, plant: Plant): RootBallReach {
  const emitterM = worstWetDistanceM(bed.layout.runs, plant.at, bed.choice.dripline.emitterSpacingM);
  const { diameterM } = wettingOfChoice(bed.choice);
  const dry = (wettedM: number): number => Math.max(0, emitterM - wettedM / 2 - plant.rootBallRadiusM);
  return { plantId: plant.id, emitterM, dryM: { most: dry(diameterM.low), least: dry(diameterM.high) } };
}

function mendsFor(bed: ReviewedBed, plant: Plant, partCount: number): readonly Mend[] {
  const spur: readonly Mend[] = plant.spur
    ? []
    : [
        {
          words: 'review.mend-add-spur',
          command: 'change-items',
          params: { items: [{ map: 'plants', id: plant.id }], changes: { spur: true } },
        },
      ];
  const { dripline } = bed.choice;
  const withinM = wettingOfChoice(bed.choice).diameterM.low / 2 + plant.rootBallRadiusM;
  const shifted =
    partCount === 1
      ? shiftRowToward(bed.layout, plant.at, withinM, dripline.emitterSpacingM, dripline.minBendRadiusM)
      : null;
  return shifted
    ? [
        ...spur,
        {
          words: 'review.mend-shift-row',
          command: 'set-bed',
          params: { id: bed.sourceBedId, changes: { lockedRoute: shifted } },
        },
      ]
    : spur;
}

/**
 * Every root ball must be reached by wet soil wherever the emitters come to lie: a new plant drinks from its ball alone.
 * Dry by both wetting models is a warning, dry by one a note. Mends: a spur of its own, or the row shifted toward it.
 */
export const rootBalls: Rule = ({ plan, beds }) =>
  Object.values(plan.plants)
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .flatMap((plant): Problem[] => {
      const where = { id: plant.id, x: plant.at.x, y: plant.at.y };
      const bed = beds.find(
        ({ layout }) => layout.status === 'routed' && pointInMultiPolygon(plant.at, layout.outline),
      );
      if (!bed) return [];
      const reach = rootBallReach(bed, plant);
      if (reach.dryM.most <= 0) return [];
      const isDry = reach.dryM.least > 0;
      const partCount = beds.filter(({ sourceBedId }) => sourceBedId === bed.sourceBedId).length;
      return [
        {
          code: isDry ? 'review.root-ball-dry' : 'review.root-ball-may-stay-dry',
          severity: isDry ? 'warn' : 'note',
          where,
          params: {
            plant: plant.name || plant.id,
            bed: bed.name,
            emitterM: reach.emitterM,
            mostM: reach.dryM.most,
            leastM: reach.dryM.least,
          },
          value: reach.dryM.most,
          limit: 0,
          unit: 'm',
          source: MODELS,
          mends: mendsFor(bed, plant, partCount),
        },
      ];
    });
