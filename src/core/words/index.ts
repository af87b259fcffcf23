export * from './drawing';
export { LAYOUT_NAMES } from './layout';
export { editNames } from './plan';
export * from './say';
export * from './types';
