import type { ReactElement } from 'react';

/** The foot of a question: the one act that answers it. */
export function Onward({ words }: { readonly words: string }): ReactElement {
  return (
    <footer className="onward">
      <button type="submit" className="mend">
        <strong>{words}</strong>
      </button>
    </footer>
  );
}
