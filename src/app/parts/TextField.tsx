import { type ReactElement, useId, useState } from 'react';

interface Props {
  readonly label: string;
  readonly value: string;
  readonly empty?: string;
  readonly onSet: (value: string) => void;
}

/** A line of words, kept when the field is left. */
export function TextField({ label, value, empty = '', onSet }: Props): ReactElement {
  const id = useId();
  const [draft, setDraft] = useState<string | null>(null);
  const commit = (): void => {
    if (draft !== null && draft !== value) onSet(draft);
    setDraft(null);
  };
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        value={draft ?? value}
        placeholder={empty}
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
