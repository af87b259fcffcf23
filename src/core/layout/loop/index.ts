export { type UsableArea, usableArea } from './area';
export * from './request';
export { routeLoop } from './routeLoop';
