export { type OrderRow, supplierOrder } from './order';
export { stapleSpacingM } from './staples';
export { type TakeoffInput, takeOff } from './takeOff';
export type { CountedBed } from './tubing';
export * from './types';
