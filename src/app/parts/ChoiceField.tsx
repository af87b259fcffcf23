import { type ReactElement, useId } from 'react';

interface Props {
  readonly label: string;
  readonly value: string;
  readonly choices: readonly (readonly [string, string])[];
  readonly onChoose: (value: string) => void;
}

/** One choice out of a few, by the system's own list. */
export function ChoiceField({ label, value, choices, onChoose }: Props): ReactElement {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onChoose(event.target.value)}>
        {choices.map(([key, name]) => (
          <option key={key} value={key}>
            {name}
          </option>
        ))}
      </select>
    </div>
  );
}
