import { type ReactElement, useState } from 'react';
import { type Georeference, placeOnEarth } from '../../core/plan';
import { edit } from '../state/edit';
import { QuantityField } from './QuantityField';
import { Section } from './Section';

interface Place {
  readonly longitudeDeg: number | null;
  readonly latitudeDeg: number | null;
}
const NOWHERE: Place = { longitudeDeg: null, latitudeDeg: null };

/** Where the plan's origin lies on the earth, and where north is; a place is kept once both its figures are known. */
export function EarthFields({ georeference }: { readonly georeference: Georeference | null }): ReactElement {
  const [begun, setBegun] = useState(NOWHERE);
  const placed = placeOnEarth(georeference);
  const place: Place = placed ?? begun;
  const bearingRad = georeference?.bearingRad ?? 0;
  const keep = (next: Georeference): boolean => {
    const saysNothing = placeOnEarth(next) === null && next.bearingRad === 0;
    return edit({ name: 'set-georeference', params: { georeference: saysNothing ? null : next } });
  };
  const set = (changes: Partial<Place>): void => {
    const { longitudeDeg, latitudeDeg } = { ...place, ...changes };
    const isKnown = longitudeDeg !== null && latitudeDeg !== null;
    setBegun(isKnown ? NOWHERE : { longitudeDeg, latitudeDeg });
    if (isKnown) keep({ longitudeDeg, latitudeDeg, bearingRad });
    else if (placed) keep({ longitudeDeg: 0, latitudeDeg: 0, bearingRad });
  };
  return (
    <Section title="On the earth" aside={placed ? '' : 'not said: files are in local metres'}>
      <QuantityField
        label="Longitude"
        measure="number"
        value={place.longitudeDeg}
        empty="degrees, west below 0"
        onSet={(longitudeDeg) => set({ longitudeDeg })}
      />
      <QuantityField
        label="Latitude of the origin"
        measure="number"
        value={place.latitudeDeg}
        empty="degrees, south below 0"
        onSet={(latitudeDeg) => set({ latitudeDeg })}
      />
      <QuantityField
        label="North, from up"
        measure="angle"
        value={bearingRad}
        onSet={(turned) =>
          keep({
            longitudeDeg: placed?.longitudeDeg ?? 0,
            latitudeDeg: placed?.latitudeDeg ?? 0,
            bearingRad: turned ?? 0,
          })
        }
      />
    </Section>
  );
}
