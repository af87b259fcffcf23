export * from './constants';
export * from './figures';
export * from './print';
export * from './problem';
