import { type ReactElement, type ReactNode, useEffect, useRef } from 'react';
import { useDesk } from '../state/desk';

/**
 * A leaf laid over the book. The browser's own dialogue keeps the focus inside and gives it back; where what had it before is
 * gone, or nothing had it, the sketch takes it, so that the next key is answered.
 */
export function Dialog(props: {
  readonly label: string;
  readonly className?: string;
  readonly isClosable?: boolean;
  /** Instead of just putting the leaf away. */
  readonly onClose?: () => void;
  readonly children: ReactNode;
}): ReactElement {
  const element = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const dialog = element.current;
    if (dialog && !dialog.open) dialog.showModal();
    return () => {
      dialog?.close();
      if (document.activeElement === null || document.activeElement === document.body)
        document.getElementById('sketch')?.focus();
    };
  }, []);
  const close = props.onClose ?? ((): void => useDesk.setState({ panel: 'none' }));
  return (
    <dialog
      ref={element}
      aria-label={props.label}
      className={`leaf ${props.className ?? ''}`}
      onCancel={(event) => {
        event.preventDefault();
        if (props.isClosable !== false) close();
      }}
    >
      {props.children}
    </dialog>
  );
}
