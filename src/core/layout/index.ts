export { measureCoverage } from './coverage';
export { turnPlacesM } from './figures';
export { layoutBed } from './layoutBed';
export { type LayoutRequest, layoutInputFor } from './layoutInput';
export * from './loop';
export * from './types';
export type { LaidRun } from './verification/pieces';
export { type VerifyInput, verifyRuns } from './verify';
