export * from './calculations';
export * from './papers';
export * from './placement/overlaps';
export * from './scales';
export * from './sheetSet';
export * from './text';
export * from './types';
