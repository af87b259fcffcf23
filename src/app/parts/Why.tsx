import type { ReactElement } from 'react';
import type { Traced } from '../../core/units';
import { TRACE_NAMES } from '../reasons';
import { sayFigure } from '../state/figure';
import { usePrinter } from '../state/units';

/** A figure that answers why: its formula, what went in, and where that comes from. */
export function Why({ trace }: { readonly trace: Traced }): ReactElement {
  const printer = usePrinter();
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
            {input.from ? <span className="aside"> {input.from}</span> : null}
          </li>
        ))}
      </ul>
      <p className="aside">{trace.source.text}</p>
    </details>
  );
}

/** "soilwater.row-spacing" reads "row spacing". */
const nameOfTrace = (code: string): string =>
  TRACE_NAMES[code] ?? (code.split('.').at(-1) ?? code).replace(/-/g, ' ');
