export * from './defaults';
export * from './types';
export * from './typical';
