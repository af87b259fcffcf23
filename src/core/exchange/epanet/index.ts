export { type InpNetwork, type InpOptions, readInp } from './read';
export type { ConstantsProfile } from './units';
export { type InpZone, writeZoneInp } from './write';
