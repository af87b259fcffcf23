import { type ReactElement, type ReactNode, useEffect, useRef, useState } from 'react';

/** A list that opens under a word of the head, and closes on Escape, on a press outside, and when something of it was done. */
export function HeadMenu(props: {
  readonly label: ReactNode;
  readonly className: string;
  readonly children: (close: () => void) => ReactNode;
}): ReactElement {
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
      <button
        type="button"
        className={props.className}
        aria-expanded={isOpen}
        onClick={() => setOpen(!isOpen)}
      >
        {props.label}
      </button>
      {isOpen ? <ul className="leaf menu">{props.children(() => setOpen(false))}</ul> : null}
    </div>
  );
}
