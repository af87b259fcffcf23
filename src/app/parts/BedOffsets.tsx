import type { ReactElement } from 'react';
import { type Bed, edgeClassSchema } from '../../core/plan';
import { edit } from '../state/edit';
import { EDGE_CLASS_NAMES } from '../wording';
import { QuantityField } from './QuantityField';

type Kind = (typeof edgeClassSchema.options)[number];

/** Each bed keeps what it says of its other kinds of edge; what is set on all of them is one edit. */
function setOffset(beds: readonly Bed[], kind: Kind, offsetM: number | null): void {
  const each = beds.map(({ id, offsetsM }) => {
    const { [kind]: _before, ...others } = offsetsM;
    return {
      map: 'beds',
      id,
      changes: { offsetsM: offsetM === null ? others : { ...others, [kind]: offsetM } },
    };
  });
  edit({ name: 'change-each', params: { each } });
}

/** How far the tubing of the chosen beds keeps off each kind of edge. */
export function BedOffsets({ beds }: { readonly beds: readonly Bed[] }): ReactElement {
  const [bed] = beds;
  return (
    <details>
      <summary>Keep off, by kind of edge</summary>
      {edgeClassSchema.options.map((kind) => (
        <QuantityField
          key={kind}
          label={`Off ${EDGE_CLASS_NAMES[kind]}`}
          measure="spacing"
          value={bed?.offsetsM[kind] ?? null}
          isMixed={beds.some((one) => one.offsetsM[kind] !== bed?.offsetsM[kind])}
          empty={bed?.edgeOffsetM == null ? 'as usual' : 'as all edges'}
          onSet={(offsetM) => setOffset(beds, kind, offsetM)}
        />
      ))}
    </details>
  );
}
