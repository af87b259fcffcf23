export * from './designSupply';
export { elevationFor, type Ground, groundOf, type HeightAt } from './elevation';
export { chooseAssembly, groupZones, mixesHighAndLow, nominalFlowM3s, type ZoneGroup } from './groupZones';
export { buildZoneNetwork, type ZoneNetwork, type ZonePlumbing } from './network';
export { type RoutedPipes, routePipes } from './routePipes';
export { siteOf, structureGround } from './site';
export { solveZone } from './solveZone';
export { modelSource, type SourceModel, sourceOf } from './source';
export * from './types';
