import { type ReactElement, useId, useState } from 'react';
import { MIXED } from '../wording';

interface Props {
  readonly label: string;
  readonly value: string;
  readonly empty?: string;
  /** Several things are edited at once and do not agree. */
  readonly isMixed?: boolean;
  readonly onSet: (value: string) => void;
}

/** A line of words, kept when the field is left. */
export function TextField({ label, value, empty = '', isMixed = false, onSet }: Props): ReactElement {
  const id = useId();
  const [draft, setDraft] = useState<string | null>(null);
  const shown = isMixed ? '' : value;
  const commit = (): void => {
    if (draft !== null && draft !== shown) onSet(draft);
    setDraft(null);
  };
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        value={draft ?? shown}
        placeholder={isMixed ? MIXED : empty}
        autoComplete="off"
        onChange={(event) => setDraft(event.target.value)}
        onBlur={commit}
        onKeyDown={(event) => {
          if (event.key === 'Enter') commit();
        }}
      />
    </div>
  );
}
