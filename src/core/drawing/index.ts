export * from './calculations';
export * from './papers';
export * from './placement/overlaps';
export * from './scales';
export * from './sheetSet';
export { SYMBOLS, type SymbolKey, type SymbolStroke } from './symbols';
export { type ForeseenTable, foresightTables } from './tables/foresightBlocks';
export * from './text';
export * from './types';
