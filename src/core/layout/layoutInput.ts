import { type Catalog, setting } from '../catalog';
import { cleanOutline } from '../geometry';
import type { Bed, Plan } from '../plan';
import type { BedChoice } from '../soilwater';
import { neighboursOf } from './input/neighbours';
import { obstaclesIn, ringedTreesIn } from './input/obstacles';
import { classOffsetM } from './input/offsets';
import { spurPlantsIn } from './input/plants';
import { classifyRing } from './input/rings';
import { wishedStubUp } from './input/stubUpWish';
import type { EdgeClass, LayoutInput, RouteMemory } from './types';

/** What the router's input is made from. */
export interface LayoutRequest {
  readonly plan: Plan;
  readonly bed: Bed;
  readonly choice: BedChoice;
  readonly catalog: Catalog;
  /** Longest loop that still waters evenly, whole length, from hydraulics; null: not known. */
  readonly runLimitM: number | null;
  readonly quality: 'preview' | 'finished';
  readonly previous: RouteMemory | null;
}

/**
 * Everything the router may know of one bed, read off the plan: arcs as chords, every edge with its class and offset,
 * what stands in the bed, spacing, slope and the designer's wishes. Dirty outlines pass through; `layoutBed` mends them.
 */
export function layoutInputFor(request: LayoutRequest): LayoutInput {
  const { plan, bed, choice } = request;
  const drawn = bed.rings.map((ring) => ring.points);
  const neighbours = neighboursOf(plan, drawn);
  const offsetOf = (edgeClass: EdgeClass): number => classOffsetM(plan, bed, choice.soil, edgeClass);
  const rings = bed.rings.map((ring) => classifyRing(ring, neighbours, offsetOf));
  const outlines = rings.map((ring) => ring.points);
  const ground = cleanOutline(outlines).parts;
  return {
    bedId: bed.id,
    rings,
    obstacles: obstaclesIn(plan, outlines, offsetOf),
    trees: ringedTreesIn(plan, bed, ground, setting(plan.settings, 'treeRingRadiusM'), offsetOf('obstacle')),
    treeRings: bed.treeRings,
    spurPlants: spurPlantsIn(plan, ground),
    rowSpacingM: choice.rowSpacingM,
    rowStretchRatio: choice.rowStretchRatio,
    rowDirectionRad: bed.rowDirectionRad,
    slope:
      bed.slopeRatio !== null && bed.slopeRatio > 0 && bed.slopeTowardRad !== null
        ? { ratio: bed.slopeRatio, towardRad: bed.slopeTowardRad }
        : null,
    bendRadiusM: bed.bendRadiusM ?? choice.dripline.minBendRadiusM,
    maxRunM: bed.maxRunM ?? request.runLimitM,
    stubUp: bed.stubUp ?? (rings[0] ? wishedStubUp(plan, rings[0]) : null),
    stubUpMovable: bed.stubUp === null,
    layout: bed.layout,
    chosenAlternative: bed.alternative,
    emitterSpacingM: choice.dripline.emitterSpacingM,
    wettedDiameterM: choice.wettedDiameterM.low,
    staggered: bed.staggered,
    locked: bed.lockedRoute,
    quality: request.quality,
    previous: request.previous,
    turnWeightM: setting(plan.settings, 'turnWeightM'),
  };
}
