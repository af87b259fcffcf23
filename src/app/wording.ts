import type { CatchKind } from '../core/geometry';
import type { LayoutKind } from '../core/layout';
import type { Bed, PlantNeed, SoilClass, Sun, WaterSource } from '../core/plan';
import type { Step } from './state/desk';

/** Names of the seven steps, in the trade's order. */
export const STEP_NAMES: Readonly<Record<Step, string>> = {
  site: 'Site',
  water: 'Water',
  beds: 'Beds',
  tubing: 'Tubing',
  zones: 'Zones',
  review: 'Review',
  sheet: 'Sheet',
};

export const CATCH_WORDS: Readonly<Record<CatchKind, string>> = {
  end: 'end',
  middle: 'middle',
  crossing: 'crossing',
  square: 'square to the edge',
  edge: 'along the edge',
  grid: 'grid',
};

/** Stands in a field where several things that are edited at once do not agree. */
export const MIXED = 'they differ';

export const EDGE_CLASS_NAMES: Readonly<
  Record<NonNullable<Bed['rings'][number]['edges'][number]['class']>, string>
> = {
  open: 'open ground',
  paving: 'paving',
  lawn: 'lawn',
  foundation: 'foundation',
  boundary: 'boundary',
  obstacle: 'obstacle',
};

export const SOIL_NAMES: Readonly<Record<SoilClass, string>> = {
  sand: 'Sand',
  'loamy-sand': 'Loamy sand',
  'sandy-loam': 'Sandy loam',
  loam: 'Loam',
  'silt-loam': 'Silt loam',
  silt: 'Silt',
  'sandy-clay-loam': 'Sandy clay loam',
  'clay-loam': 'Clay loam',
  'silty-clay-loam': 'Silty clay loam',
  'sandy-clay': 'Sandy clay',
  'silty-clay': 'Silty clay',
  clay: 'Clay',
};
export const PLANT_NAMES: Readonly<Record<PlantNeed, string>> = {
  'very-low': 'Very low water',
  low: 'Low water',
  moderate: 'Moderate water',
  high: 'High water',
};
export const SUN_NAMES: Readonly<Record<Sun, string>> = {
  'full-sun': 'Full sun',
  'part-shade': 'Part shade',
  shade: 'Shade',
};
export const WATER_NAMES: Readonly<Record<WaterSource['water'], string>> = {
  potable: 'Drinking water',
  recycled: 'Recycled water',
  well: 'Well',
  tank: 'Tank',
};
export const LAYOUT_NAMES: Readonly<Record<LayoutKind, string>> = {
  loop: 'One loop in rows',
  'loop-centre-row': 'Loop with a centre row',
  strip: 'Single strip',
  laterals: 'Laterals on headers',
  contour: 'Loop along the contour',
};
