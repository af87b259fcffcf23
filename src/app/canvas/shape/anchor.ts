import type { PlanPoint } from '../../../core/geometry';
import { type Dimension, ITEM_MAPS, type Plan } from '../../../core/plan';
import { middleOf } from '../paint/labels';
import { bedOutline, structureOutline } from './outline';

/** Where an end of a dimension stands now; null where what it was tied to is gone. */
export function anchorPoint(plan: Plan, anchor: Dimension['from']): PlanPoint | null {
  if (anchor.kind === 'free') return anchor.at;
  if (anchor.kind === 'corner') {
    const { itemId, ringIndex, pointIndex } = anchor;
    const shape = plan.structures[itemId]?.shape;
    if (shape) return shape.kind === 'area' ? (shape.rings[ringIndex]?.[pointIndex] ?? null) : null;
    return plan.beds[itemId]?.rings[ringIndex]?.points[pointIndex] ?? null;
  }
  for (const map of ITEM_MAPS) {
    const item = plan[map][anchor.itemId];
    if (item === undefined) continue;
    if ('at' in item) return item.at;
    const bed = plan.beds[anchor.itemId];
    if (bed) return middleOf(bedOutline(bed))?.at ?? null;
    const structure = plan.structures[anchor.itemId];
    if (structure) return middleOf(structureOutline(structure))?.at ?? null;
  }
  return null;
}
