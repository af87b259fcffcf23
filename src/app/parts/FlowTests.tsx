import { type KeyboardEvent, type ReactElement, useState } from 'react';
import type { WaterSource } from '../../core/plan';
import { volumeUnitM3 } from '../state/read';
import { usePrinter } from '../state/units';
import { QuantityField } from './QuantityField';

type Found = Pick<WaterSource, 'flowTestM3s'>;

/** Ways to find the flow without a flow meter: a bucket and a stopwatch, or the dial of the water meter read twice. */
export function FlowTests({ onFlow }: { readonly onFlow: (found: Found) => void }): ReactElement {
  return (
    <>
      <BucketTest onFlow={onFlow} />
      <DialTest onFlow={onFlow} />
    </>
  );
}

/** It stands before the last figure is written too: a key that leaves that figure would else pass it by. */
function TakeFlow(props: {
  readonly flowM3s: number | null;
  readonly onFlow: (found: Found) => void;
}): ReactElement {
  const printer = usePrinter();
  const { flowM3s } = props;
  const isFound = flowM3s !== null && flowM3s > 0;
  return (
    <button
      type="button"
      className="mend"
      aria-disabled={!isFound}
      onClick={() => {
        if (isFound) props.onFlow({ flowTestM3s: flowM3s });
      }}
    >
      <strong>Take this flow</strong>{' '}
      {isFound ? (
        <span className="water">{printer.flow(flowM3s)}</span>
      ) : (
        <span className="aside">once its figures are written</span>
      )}
    </button>
  );
}

/** Return in a figure of a test keeps the figure; it does not turn the leaf that the test stands on, which would lose the flow. */
const keepLeaf = (event: KeyboardEvent<HTMLElement>): void => {
  if (event.key === 'Enter' && event.target instanceof HTMLInputElement) event.preventDefault();
};

/** What ran into a bucket of known size, and how long it took. */
function BucketTest({ onFlow }: { readonly onFlow: (found: Found) => void }): ReactElement {
  const printer = usePrinter();
  const [volumeM3, setVolume] = useState<number | null>(null);
  const [durationS, setDuration] = useState<number | null>(null);
  const unitM3 = volumeUnitM3(printer.system);
  return (
    <details onKeyDown={keepLeaf}>
      <summary>Bucket and stopwatch</summary>
      <QuantityField
        label={printer.system === 'us' ? 'Gallons that ran' : 'Litres that ran'}
        measure="number"
        value={volumeM3 === null ? null : Number((volumeM3 / unitM3).toFixed(3))}
        onSet={(value) => setVolume(value === null ? null : value * unitM3)}
      />
      <QuantityField label="Seconds it took" measure="number" value={durationS} onSet={setDuration} />
      <TakeFlow flowM3s={volumeM3 && durationS ? volumeM3 / durationS : null} onFlow={onFlow} />
    </details>
  );
}

const DIAL_UNITS = { us: 'gallons', metric: 'litres' } as const;

/** The meter's dial before and after, with everything else shut off. */
function DialTest({ onFlow }: { readonly onFlow: (found: Found) => void }): ReactElement {
  const printer = usePrinter();
  const [before, setBefore] = useState<number | null>(null);
  const [after, setAfter] = useState<number | null>(null);
  const [durationS, setDuration] = useState<number | null>(null);
  const isBackwards = before !== null && after !== null && after <= before;
  const flowM3s =
    before === null || after === null || !durationS || isBackwards
      ? null
      : ((after - before) * volumeUnitM3(printer.system)) / durationS;
  const unit = DIAL_UNITS[printer.system];
  return (
    <details onKeyDown={keepLeaf}>
      <summary>The meter’s dial, read twice</summary>
      <QuantityField label={`Dial before, ${unit}`} measure="number" value={before} onSet={setBefore} />
      <QuantityField label={`Dial after, ${unit}`} measure="number" value={after} onSet={setAfter} />
      <QuantityField label="Seconds between" measure="number" value={durationS} onSet={setDuration} />
      {isBackwards ? <p className="refusal">The second reading must be the larger one.</p> : null}
      <TakeFlow flowM3s={flowM3s} onFlow={onFlow} />
    </details>
  );
}
