import './strictPolicy';

export * from './parcel';
export * from './protocol';
