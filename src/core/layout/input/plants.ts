import { type MultiPolygon, pointInMultiPolygon } from '../../geometry';
import type { Plan } from '../../plan';
import type { LayoutInput } from '../types';

/** Plants on this ground that the designer gave a spur of their own, by id. */
export function spurPlantsIn(plan: Plan, ground: MultiPolygon): LayoutInput['spurPlants'] {
  return Object.values(plan.plants)
    .filter((plant) => plant.spur === true && pointInMultiPolygon(plant.at, ground))
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .map(({ id, at, rootBallRadiusM }) => ({ id, at, rootBallRadiusM }));
}
