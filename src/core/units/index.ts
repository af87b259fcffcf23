export * from './constants';
export * from './figures';
export * from './nesting';
export * from './parse';
export * from './print';
export * from './problem';
export * from './schemaReason';
export * from './steps';
