import type { ReactElement } from 'react';
import { ITEM_NOUNS } from '../../core/plan';
import { useDesk } from '../state/desk';
import { nameOf } from '../state/names';
import { choose, chooseAlso, everyItem, showChosen } from '../state/selection';

/** Everything on the sketch as a list: for a screen reader, for the keyboard, and for finding what is small. */
export function Contents(): ReactElement {
  const plan = useDesk((state) => state.history.plan);
  const selection = useDesk((state) => state.selection);
  const items = everyItem(plan);
  return (
    <details className="contents">
      <summary id="contents">
        Contents of the plan <span className="aside">{items.length}</span>
      </summary>
      <ul>
        {items.map((item) => {
          const isChosen = selection.some((one) => one.map === item.map && one.id === item.id);
          return (
            <li key={`${item.map} ${item.id}`}>
              <button
                type="button"
                className={isChosen ? 'contents-line is-chosen' : 'contents-line'}
                aria-pressed={isChosen}
                onClick={(event) => (event.shiftKey ? chooseAlso(item) : choose([item]))}
                onDoubleClick={showChosen}
              >
                {nameOf(plan, item)} <span className="aside">{ITEM_NOUNS[item.map].toLowerCase()}</span>
              </button>
            </li>
          );
        })}
      </ul>
      {items.length === 0 ? <p className="faint">Nothing is drawn yet.</p> : null}
    </details>
  );
}
