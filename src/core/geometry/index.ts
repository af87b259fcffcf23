export * from './arc';
export * from './box';
export * from './catching';
export * from './centre';
export * from './clean';
export {
  exclusive,
  exclusiveRings,
  type Filling,
  intersect,
  intersectRings,
  nestRings,
  type Region,
  subtract,
  subtractRings,
  unite,
  uniteRings,
} from './clip';
export * from './construct';
export * from './distance';
export * from './fitScale';
export * from './inside';
export * from './offset';
export * from './path';
export * from './pointIndex';
export * from './polygon';
export * from './pull';
export * from './quantise';
export * from './raster';
export * from './ring';
export * from './segmentIndex';
export * from './simplify';
export * from './spaces';
export * from './steady';
export * from './tolerance';
export * from './transform';
export * from './types';
export * from './vector';
