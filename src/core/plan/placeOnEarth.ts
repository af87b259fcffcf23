import type { Plan } from './schema';

/** Where plan space lies on the earth. */
export type Georeference = NonNullable<Plan['georeference']>;

/**
 * Where a plan lies on the earth; null where that is not said. North may be known of a plan whose place is not: it is
 * stored with longitude 0 and latitude 0, which is open sea.
 */
export const placeOnEarth = (georeference: Georeference | null): Georeference | null =>
  georeference === null || (georeference.longitudeDeg === 0 && georeference.latitudeDeg === 0)
    ? null
    : georeference;
