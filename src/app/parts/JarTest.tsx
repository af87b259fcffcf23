import { type ReactElement, useState } from 'react';
import type { SoilClass } from '../../core/plan';
import { readJarTest } from '../../core/soilwater';
import { sayProblem } from '../../core/words';
import { usePrinter } from '../state/units';
import { SOIL_NAMES } from '../wording';
import { QuantityField } from './QuantityField';
import { Reasons } from './Reasons';
import { Line } from './Section';

const LAYERS = [
  ['sandM', 'Sand, after a minute'],
  ['siltM', 'Silt, after two hours'],
  ['clayM', 'Clay, once it is clear'],
] as const;

/** Soil shaken with water in a jar: the heights of its layers say the texture, and what else it could be. */
export function JarTest({ onSoil }: { readonly onSoil: (soil: SoilClass) => void }): ReactElement {
  const printer = usePrinter();
  const [layers, setLayers] = useState<Partial<Record<'sandM' | 'siltM' | 'clayM', number>>>({});
  const { sandM, siltM, clayM } = layers;
  const isFull = sandM !== undefined && siltM !== undefined && clayM !== undefined;
  const read = isFull ? readJarTest({ sandM, siltM, clayM }) : null;
  return (
    <details>
      <summary>Jar test</summary>
      <p className="aside">A third of a jar of soil, water to the top, shaken: measure each layer.</p>
      {LAYERS.map(([key, label]) => (
        <QuantityField
          key={key}
          label={label}
          measure="spacing"
          value={layers[key] ?? null}
          onSet={(value) =>
            setLayers(({ [key]: _before, ...rest }) => (value === null ? rest : { ...rest, [key]: value }))
          }
        />
      ))}
      {read && !read.ok && read.problems[0] ? (
        <p className="refusal">{sayProblem(read.problems[0], printer).what}</p>
      ) : null}
      {read?.ok ? (
        <>
          <Line name="Sand, silt, clay">
            {[read.value.texture.sandRatio, read.value.texture.siltRatio, read.value.texture.clayRatio]
              .map((share) => printer.percent(share))
              .join(', ')}
          </Line>
          <Reasons of={['jar']} />
          {[read.value.soil, ...read.value.orElse].map((soil, index) => (
            <button key={soil} type="button" className="mend" onClick={() => onSoil(soil)}>
              <strong>{SOIL_NAMES[soil]}</strong>{' '}
              <span>{index === 0 ? 'what the jar says' : 'within the reading error'}</span>
            </button>
          ))}
        </>
      ) : null}
    </details>
  );
}
