import { type ReactElement, useEffect, useRef, useState } from 'react';
import { runAction } from '../actions/run';
import { ACTIONS, keysInWords } from '../actions/table';

/** What can be done with the plan as a whole, opened from its name. */
export function PlanMenu({ name }: { readonly name: string }): ReactElement {
  const [isOpen, setOpen] = useState(false);
  const frame = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (!isOpen) return;
    const close = (event: PointerEvent): void => {
      if (!frame.current?.contains(event.target as Node)) setOpen(false);
    };
    window.addEventListener('pointerdown', close);
    return () => window.removeEventListener('pointerdown', close);
  }, [isOpen]);
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: closes the menu from any of its buttons
    <div
      ref={frame}
      className="plan-menu"
      onKeyDown={(event) => {
        if (event.key !== 'Escape' || !isOpen) return;
        event.stopPropagation();
        setOpen(false);
      }}
    >
      <button type="button" className="plan-name" aria-expanded={isOpen} onClick={() => setOpen(!isOpen)}>
        {name}
      </button>
      {isOpen ? (
        <ul className="leaf menu">
          {ACTIONS.filter((action) => action.group === 'Plan').map((action) => (
            <li key={action.key}>
              <button
                type="button"
                onClick={() => {
                  setOpen(false);
                  runAction(action.key);
                }}
              >
                {action.name} <kbd>{keysInWords(action)}</kbd>
              </button>
            </li>
          ))}
        </ul>
      ) : null}
    </div>
  );
}
