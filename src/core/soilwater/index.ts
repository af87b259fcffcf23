export * from './choose';
export * from './plantFactors';
export * from './rate';
export * from './slope';
export * from './soils';
export * from './targets';
export * from './types';
export * from './wetting';
