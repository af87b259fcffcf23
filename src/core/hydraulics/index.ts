export { isSoundEmitter, isSoundLoss, isSoundSupply, type NetworkIssue, networkIssues } from './check';
export { EPANET_CONSTANTS, type HydraulicConstants, STANDARD_CONSTANTS } from './constants';
export { deviceHeadM, stillHeadM, supplyHeadM } from './curves';
export { emitterFlowM3s, emitterRange, fitPowerLaw } from './emitters';
export { blasiusFactor, frictionFactor, frictionHeadM, type PipeRun, swameeJainFactor } from './friction';
export { type Outlet, type PreparedNetwork, prepareNetwork, withFigures } from './prepare';
export { solveNetwork, solvePrepared } from './solve';
export * from './types';
