export {
  requiredSourceHeadM,
  shiftSupply,
  solveAtRest,
  withLinks,
  withSourceHeadsMoved,
  withSupply,
} from './altered';
export { isSoundEmitter, isSoundLoss, isSoundSupply, type NetworkIssue, networkIssues } from './check';
export { EPANET_CONSTANTS, type HydraulicConstants, STANDARD_CONSTANTS } from './constants';
export { deviceHeadM, stillHeadM, supplyHeadM } from './curves';
export {
  type CauseCode,
  type Diagnosis,
  diagnose,
  type FieldReading,
  type LikelyCause,
} from './diagnosis';
export { emitterFlowM3s, emitterRange, fitPowerLaw } from './emitters';
export type { Outlet } from './figures';
export {
  type FlushLeg,
  type FlushPoint,
  type FlushState,
  flushTogether,
  openOutletLaw,
  solveFlushing,
  solveFlushingSteps,
} from './flushing';
export { blasiusFactor, frictionFactor, frictionHeadM, type PipeRun, swameeJainFactor } from './friction';
export {
  coefficientOfVariation,
  distributionUniformity,
  emissionUniformity,
  type FlowSpread,
  flowVariation,
  seededRandom,
  spreadOf,
  standardNormal,
  statisticalUniformity,
  type TrialFigure,
  trialFigureOf,
  uniformityByTrial,
} from './measures';
export { type PreparedNetwork, prepareNetwork, withFigures } from './prepare';
export { frictionLawOf, type RunSpec, runNetwork } from './run';
export { type RunLimit, type RunLimitInput, type RunLimitReason, runLimitM } from './runLimit';
export { type NodeSensitivity, type Sensitivities, sensitivitiesAt } from './sensitivities';
export { solveNetwork, solvePrepared, solvePreparedSteps } from './solve';
export * from './types';
export { waterViscosityM2s } from './water';
