export { type LayScriptInput, layScript } from './layScript';
export type * from './types';
