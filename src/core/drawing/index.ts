export * from './text';
export * from './types';
