import './strictPolicy';

export type * from './errand';
export * from './parcel';
export * from './protocol';
export type * from './underlay/protocol';
