import { type KeyboardEvent, type ReactElement, useState } from 'react';
import { flushSync } from 'react-dom';
import { runAction } from '../actions/run';
import { ACTIONS, keysInWords } from '../actions/table';
import { useDesk } from '../state/desk';
import { Dialog } from './Dialog';

function matching(text: string) {
  const words = text.toLowerCase().split(/\s+/).filter(Boolean);
  return ACTIONS.filter((action) => {
    const all = `${action.name} ${action.word ?? ''} ${action.group}`.toLowerCase();
    return words.every((word) => all.includes(word));
  });
}

/** Every action by name, with its keys: write part of a name, choose, press Return. */
export function FindAction(): ReactElement {
  const [text, setText] = useState('');
  const [at, setAt] = useState(0);
  const found = matching(text);
  const chosen = found[Math.min(at, found.length - 1)];

  const run = (key: string): void => {
    // The leaf is gone before the act begins, so that what is typed next already falls on the sketch.
    flushSync(() => useDesk.setState({ panel: 'none' }));
    runAction(key);
    if (key.startsWith('tool.')) document.getElementById('sketch')?.focus();
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === 'ArrowDown') setAt(Math.min(at + 1, found.length - 1));
    else if (event.key === 'ArrowUp') setAt(Math.max(at - 1, 0));
    else if (event.key === 'Enter' && chosen) run(chosen.key);
    else return;
    event.preventDefault();
  };

  return (
    <Dialog label="Find an action" className="find">
      <input
        role="combobox"
        aria-expanded="true"
        aria-controls="found-actions"
        aria-activedescendant={chosen ? `found-${chosen.key}` : undefined}
        aria-label="Find an action"
        placeholder="Write part of what you want to do"
        value={text}
        autoFocus
        onChange={(event) => {
          setText(event.target.value);
          setAt(0);
        }}
        onKeyDown={onKeyDown}
      />
      <div id="found-actions" role="listbox" aria-label="Actions" className="found">
        {found.map((action) => (
          // biome-ignore lint/a11y/useKeyWithClickEvents: the field above has the keys
          <div
            key={action.key}
            id={`found-${action.key}`}
            role="option"
            tabIndex={-1}
            aria-selected={action === chosen}
            className={action === chosen ? 'found-line is-chosen' : 'found-line'}
            ref={(element) => {
              if (action === chosen) element?.scrollIntoView({ block: 'nearest' });
            }}
            onClick={() => run(action.key)}
          >
            <span>{action.name}</span>
            <span className="aside">{action.group}</span>
            <kbd>{keysInWords(action)}</kbd>
          </div>
        ))}
      </div>
      {found.length === 0 ? <p>Nothing is called that.</p> : null}
    </Dialog>
  );
}
