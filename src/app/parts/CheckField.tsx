import { type ReactElement, useEffect, useRef } from 'react';

/** Yes or no. */
export function CheckField(props: {
  readonly label: string;
  readonly isOn: boolean;
  /** Several things are edited at once and do not agree. */
  readonly isMixed?: boolean;
  readonly onTurn: (isOn: boolean) => void;
}): ReactElement {
  const box = useRef<HTMLInputElement>(null);
  const isMixed = props.isMixed ?? false;
  useEffect(() => {
    if (box.current) box.current.indeterminate = isMixed;
  }, [isMixed]);
  return (
    <label className="check">
      <input
        ref={box}
        type="checkbox"
        checked={props.isOn && !isMixed}
        onChange={(event) => props.onTurn(event.target.checked)}
      />
      {props.label}
    </label>
  );
}
