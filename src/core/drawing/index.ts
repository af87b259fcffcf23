export * from './papers';
export * from './scales';
export * from './sheetSet';
export * from './text';
export * from './types';
