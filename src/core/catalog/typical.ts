import { TYPICAL_ASSEMBLIES, TYPICAL_BACKFLOWS, TYPICAL_METERS } from './devices';
import { TYPICAL_DRIPLINES } from './driplines';
import { TYPICAL_FITTINGS } from './fittings';
import { TYPICAL_PIPES } from './pipes';
import type { Catalog } from './types';

/** The catalogue a plan starts with: typical figures and diameters by standard, each with its source, no maker's part. */
export const typicalCatalog: Catalog = {
  driplines: TYPICAL_DRIPLINES,
  pipes: TYPICAL_PIPES,
  assemblies: TYPICAL_ASSEMBLIES,
  meters: TYPICAL_METERS,
  backflows: TYPICAL_BACKFLOWS,
  fittings: TYPICAL_FITTINGS,
};
