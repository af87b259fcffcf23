export * from './drawing';
export { editNames } from './plan';
export * from './say';
export * from './types';
