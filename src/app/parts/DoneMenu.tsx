import type { ReactElement } from 'react';
import { useDesk } from '../state/desk';
import { sayDone } from '../state/done';
import { travelTo } from '../state/edit';
import { HeadMenu } from './HeadMenu';

/** Edits listed either way from where the plan stands; further ones are reached from there. */
const LISTED = 40;

/** Everything done, newest first: a press brings the plan back to how it stood after that edit, or forth to one taken back. */
export function DoneMenu(): ReactElement | null {
  const { past, future } = useDesk((state) => state.history);
  if (past.length + future.length === 0) return null;
  const all = [...past, ...future];
  const first = Math.max(0, past.length - LISTED);
  const lines = all.slice(first, past.length + LISTED).map((entry, index) => ({
    edits: first + index + 1,
    text: sayDone(entry),
  }));
  return (
    <HeadMenu
      className="act"
      label={
        <>
          Done <span className="aside">{past.length}</span>
        </>
      }
    >
      {(close) =>
        [{ edits: first, text: first === 0 ? 'as it was opened' : `${first} edits before` }, ...lines]
          .reverse()
          .map(({ edits, text }) => (
            <li key={edits}>
              <button
                type="button"
                className={edits > past.length ? 'faint' : undefined}
                aria-current={edits === past.length ? 'step' : undefined}
                onClick={() => {
                  close();
                  travelTo(edits);
                }}
              >
                {edits === 0 ? '' : `${edits}  `}
                {text}
                {edits > past.length ? <span className="unseen">, taken back</span> : null}
              </button>
            </li>
          ))
      }
    </HeadMenu>
  );
}
