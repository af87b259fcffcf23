import { type ReactElement, useId } from 'react';
import { MIXED } from '../wording';

/** No choice has this key: it stands for several that do not agree. */
const NO_CHOICE = '\u2260';

interface Props {
  readonly label: string;
  readonly value: string;
  readonly choices: readonly (readonly [string, string])[];
  /** Several things are edited at once and do not agree. */
  readonly isMixed?: boolean;
  /** The names are long: the list takes all the room that the label leaves. */
  readonly isLong?: boolean;
  readonly onChoose: (value: string) => void;
}

/** One choice out of a few, by the system's own list. */
export function ChoiceField({
  label,
  value,
  choices,
  isMixed = false,
  isLong = false,
  onChoose,
}: Props): ReactElement {
  const id = useId();
  return (
    <div className={isLong ? 'field is-long' : 'field'}>
      <label htmlFor={id}>{label}</label>
      <select id={id} value={isMixed ? NO_CHOICE : value} onChange={(event) => onChoose(event.target.value)}>
        {isMixed ? (
          <option value={NO_CHOICE} disabled>
            {MIXED}
          </option>
        ) : null}
        {choices.map(([key, name]) => (
          <option key={key} value={key}>
            {name}
          </option>
        ))}
      </select>
    </div>
  );
}
