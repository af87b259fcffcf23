export * from './constants';
export * from './figures';
export * from './parse';
export * from './print';
export * from './problem';
