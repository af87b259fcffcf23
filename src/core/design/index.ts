export * from './cache';
export * from './marks';
export * from './pipeline';
export * from './types';
