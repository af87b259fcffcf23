import { type ReactElement, useState } from 'react';
import { Onward } from './Onward';
import { QuantityField } from './QuantityField';

export interface PdfPageAnswer {
  readonly pageNumber: number;
  /** Of the scale printed on the page; null where it is set by two points instead. */
  readonly scaleDenominator: number | null;
}

/** Which page of a PDF, and whether a scale is printed on it. */
export function PdfPageQuestion(props: {
  readonly name: string;
  readonly count: number;
  readonly onAnswer: (answer: PdfPageAnswer) => void;
}): ReactElement {
  const [pageNumber, setPageNumber] = useState(1);
  const [scaleDenominator, setScale] = useState<number | null>(null);
  const isKnown = Number.isInteger(pageNumber) && pageNumber >= 1 && pageNumber <= props.count;
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        if (isKnown) props.onAnswer({ pageNumber, scaleDenominator });
      }}
    >
      <h1>{props.name}</h1>
      <QuantityField
        label={`Page, of ${props.count}`}
        measure="number"
        value={pageNumber}
        onSet={(value) => setPageNumber(value ?? 1)}
      />
      {isKnown ? null : <p className="refusal">There is no such page.</p>}
      <QuantityField
        label="Printed scale, 1 to"
        measure="number"
        value={scaleDenominator}
        empty="set by two points"
        onSet={(value) => setScale(value !== null && value > 0 ? value : null)}
      />
      <p className="aside">
        A printed scale holds only if the page was never resized: check it on a known distance.
      </p>
      <Onward words="Lay it under the plan" />
    </form>
  );
}
