export { keepRoute, type WantedRoute, wantedRoutes } from './bedStage';
export * from './cache';
export * from './foresight';
export * from './pipeline';
export * from './types';
export * from './ways';
export * from './wettedGround';
