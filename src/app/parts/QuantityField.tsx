import { type ReactElement, useId, useState } from 'react';
import { sayProblem } from '../../core/words';
import { isWaterMeasure, type Measure, printMeasure, readMeasure } from '../state/read';
import { usePrinter } from '../state/units';
import { MIXED } from '../wording';

interface Props {
  readonly label: string;
  readonly measure: Measure;
  readonly value: number | null;
  /** What stands in the field while nothing is said. */
  readonly empty?: string;
  /** Several things are edited at once and do not agree. */
  readonly isMixed?: boolean;
  /** Null when the field is cleared. */
  readonly onSet: (value: number | null) => void;
}

/** A figure that takes what a person writes, with its unit, and says how it failed where it cannot. */
export function QuantityField({
  label,
  measure,
  value,
  empty = '',
  isMixed = false,
  onSet,
}: Props): ReactElement {
  const id = useId();
  const printer = usePrinter();
  const [draft, setDraft] = useState<string | null>(null);
  const [refusal, setRefusal] = useState('');
  const printed = value === null || isMixed ? '' : printMeasure(measure, value, printer);

  const commit = (): void => {
    if (draft === null || draft === printed) {
      setDraft(null);
      setRefusal('');
      return;
    }
    if (draft.trim() === '') {
      setDraft(null);
      setRefusal('');
      if (value !== null) onSet(null);
      return;
    }
    const read = readMeasure(measure, draft, printer.system);
    if (!read.ok) {
      const problem = read.problems[0];
      setRefusal(problem ? sayProblem(problem, printer).what : '');
      return;
    }
    setDraft(null);
    setRefusal('');
    onSet(read.value);
  };

  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        className={isWaterMeasure(measure) ? 'figure water' : 'figure'}
        value={draft ?? printed}
        placeholder={isMixed ? MIXED : empty}
        autoComplete="off"
        spellCheck={false}
        aria-invalid={refusal !== ''}
        aria-describedby={refusal === '' ? undefined : `${id}-refusal`}
        onChange={(event) => setDraft(event.target.value)}
        onBlur={commit}
        onKeyDown={(event) => {
          if (event.key === 'Enter') commit();
          if (event.key === 'Escape' && draft !== null) {
            event.stopPropagation();
            setDraft(null);
            setRefusal('');
          }
        }}
      />
      {refusal === '' ? null : (
        <p id={`${id}-refusal`} className="refusal" role="alert">
          {refusal}
        </p>
      )}
    </div>
  );
}
