import type { ReactElement } from 'react';
import type { Catalog } from '../../core/catalog';
import type { Traced } from '../../core/units';
import { saySource } from '../../core/words';
import { TRACE_NAMES } from '../reasons';
import { useDesk } from '../state/desk';
import { sayFigure } from '../state/figure';
import { usePrinter } from '../state/units';

/** A figure that answers why: its formula, what went in, and where that comes from. */
export function Why({ trace }: { readonly trace: Traced }): ReactElement {
  const printer = usePrinter();
  const catalog = useDesk((state) => state.design?.catalog ?? null);
  return (
    <details className="why">
      <summary>
        <span>{nameOfTrace(trace.code)}</span>
        <span className="figure">{sayFigure(trace.result.value, trace.result.unit, printer)}</span>
      </summary>
      <p className="formula">{trace.formula}</p>
      <ul>
        {trace.inputs.map((input) => (
          <li key={input.name}>
            {input.name}: {sayFigure(input.quantity.value, input.quantity.unit, printer)}
            {input.from ? <span className="aside"> {fromOf(input.from, catalog)}</span> : null}
          </li>
        ))}
      </ul>
      <p className="aside">{saySource(trace.source)}</p>
    </details>
  );
}

/** Where an input is from: a part of the catalogue by its name, and how its figures stand; else as it is told. */
function fromOf(from: string, catalog: Catalog | null): string {
  const part = catalog?.driplines.find(({ id }) => id === from);
  return part ? `${part.name}: ${saySource(part.source)}` : from;
}

/** "soilwater.row-spacing" reads "row spacing". */
const nameOfTrace = (code: string): string =>
  TRACE_NAMES[code] ?? (code.split('.').at(-1) ?? code).replace(/-/g, ' ');
