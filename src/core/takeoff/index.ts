export { SPLICE_FROM_TEE_M } from './cutting/pieces';
export { labourSource } from './labour';
export {
  type FixedSpot,
  type LayMove,
  type LayPlace,
  type LayScript,
  type LayScriptInput,
  type LayStep,
  type LayTie,
  layScript,
  type RunScript,
  type SpotPair,
} from './layScript';
export { type OrderRow, supplierOrder } from './order';
export { stapleSource, stapleSpacingM } from './staples';
export { type TakeoffInput, takeOff } from './takeOff';
export type { CountedBed } from './tubing';
export * from './types';
