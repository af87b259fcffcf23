import { type SettingKey, setting } from '../../catalog';
import type { Bed, Plan, SoilClass } from '../../plan';
import type { EdgeClass } from '../types';

const CLAY: ReadonlySet<SoilClass> = new Set([
  'clay',
  'silty-clay',
  'sandy-clay',
  'clay-loam',
  'silty-clay-loam',
]);

const KEY_OF: Readonly<Record<Exclude<EdgeClass, 'foundation'>, SettingKey>> = {
  open: 'offsetOpenM',
  paving: 'offsetPavingM',
  lawn: 'offsetLawnM',
  boundary: 'offsetBoundaryM',
  obstacle: 'offsetObstacleM',
};

/**
 * Least distance of tubing from an edge of a class, metres. First of: the bed's own number for the class, the bed's
 * number for all edges, the table of defaults (a foundation is kept further off on clay and on expansive soil).
 */
export function classOffsetM(plan: Plan, bed: Bed, soil: SoilClass, edgeClass: EdgeClass): number {
  const own = bed.offsetsM[edgeClass];
  if (own !== undefined) return own;
  if (bed.edgeOffsetM !== null) return bed.edgeOffsetM;
  if (edgeClass !== 'foundation') return setting(plan.settings, KEY_OF[edgeClass]);
  const swells = plan.site.expansiveSoil || CLAY.has(soil);
  return setting(plan.settings, swells ? 'offsetFoundationClayM' : 'offsetFoundationM');
}
