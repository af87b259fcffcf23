import type { ReactElement } from 'react';

/** Yes or no. */
export function CheckField(props: {
  readonly label: string;
  readonly isOn: boolean;
  readonly onTurn: (isOn: boolean) => void;
}): ReactElement {
  return (
    <label className="check">
      <input type="checkbox" checked={props.isOn} onChange={(event) => props.onTurn(event.target.checked)} />
      {props.label}
    </label>
  );
}
