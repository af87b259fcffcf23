export * from './loop';
export * from './types';
