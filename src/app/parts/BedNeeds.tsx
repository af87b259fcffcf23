import type { ReactElement } from 'react';
import type { Bed } from '../../core/plan';
import { inCommon } from '../state/alike';
import type { Measure } from '../state/read';
import { CheckField } from './CheckField';
import { QuantityField } from './QuantityField';

/** What makes a bed drink unlike its kind, and how high it lies. */
const FIGURES: readonly (readonly [
  'densityFactor' | 'microclimateFactor' | 'rootDepthM' | 'elevationM',
  string,
  Measure,
  string,
])[] = [
  ['densityFactor', 'Density of planting', 'number', '1, as usual'],
  ['microclimateFactor', 'Heat and wind', 'number', '1, as usual'],
  ['rootDepthM', 'Depth of roots', 'spacing', 'by the plants'],
  ['elevationM', 'Height over the datum', 'length', 'by spot heights'],
];

interface Props {
  readonly beds: readonly Bed[];
  readonly onChange: (changes: Partial<Bed>) => boolean;
}

/** Figures of the chosen beds that are seldom needed: they stand folded away. */
export function BedNeeds({ beds, onChange }: Props): ReactElement | null {
  const [bed] = beds;
  if (!bed) return null;
  return (
    <details>
      <summary>Need of water, and height</summary>
      {FIGURES.map(([key, label, measure, empty]) => (
        <QuantityField
          key={key}
          label={label}
          measure={measure}
          value={bed[key]}
          isMixed={inCommon(beds, key).isMixed}
          empty={empty}
          onSet={(value) => onChange({ [key]: value })}
        />
      ))}
      <CheckField
        label="Special landscape area, for the water budget"
        isOn={bed.specialArea}
        isMixed={inCommon(beds, 'specialArea').isMixed}
        onTurn={(specialArea) => onChange({ specialArea })}
      />
    </details>
  );
}
