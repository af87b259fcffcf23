import { type KeyboardEvent, type ReactElement, useState } from 'react';
import { chooseKeys, forgetKeyChoices, useKeyChoices } from '../actions/keyChoices';
import { chordOf, keysOf } from '../actions/keys';
import { ACTIONS, type Action, keysInWords } from '../actions/table';
import { Dialog } from '../parts/Dialog';
import { useDesk } from '../state/desk';

const GROUPS: readonly Action['group'][] = ['Plan', 'Edit', 'View', 'Go', 'Draw', 'Arrange', 'Help'];

/** The pressed keys as the table writes them; null for a bare modifier. */
function pressedKeys(event: KeyboardEvent): string | null {
  if (['Control', 'Shift', 'Alt', 'Meta'].includes(event.key)) return null;
  const digit = /^Digit(\d)$/.exec(event.code)?.[1];
  const letter = digit ?? (event.key.length === 1 ? event.key.toUpperCase() : event.key);
  const parts = [
    event.ctrlKey || event.metaKey ? 'Mod' : '',
    event.altKey ? 'Alt' : '',
    event.shiftKey ? 'Shift' : '',
    letter,
  ];
  return parts.filter((part) => part !== '').join('+');
}

/** Help made from the same table as the menus: what can be done, by which keys, why those, and how to change them. */
export function Help(): ReactElement {
  useKeyChoices();
  return (
    <Dialog label="Keys and help" className="help">
      <header className="help-head">
        <h1>Keys and help</h1>
        <button type="button" className="act" onClick={() => useDesk.setState({ panel: 'none' })}>
          Close
        </button>
      </header>
      <p>
        The acts at the head of a page answer to 1 to 9 in their order, while no tool is out. On the sketch,
        comma and full stop walk through what is drawn, &lt; and &gt; through the corners of a bed; arrow keys
        move what is chosen, with Shift ten times as far, with Alt a tenth. While drawing, arrow keys move the
        hair, Return places it, Backspace takes the last place back, Escape puts the tool away; write a length
        (12&apos;6, 3.81 m, 150 in), a length and a direction (12&apos;6 at 30, 12&apos;6 N 30 E), a size
        (12&apos;6 x 20&apos;) or a place (E 10 N 5). With the pointer, drag the paper to move it, Shift-drag
        a box and Alt-drag a lasso to choose; Shift holds a direction, Alt keeps the hair from catching. The
        wheel moves the paper; with Ctrl it zooms.
      </p>
      {GROUPS.map((group) => (
        <section key={group}>
          <h2>{group}</h2>
          <table className="ledger">
            <tbody>
              {ACTIONS.filter((action) => action.group === group).map((action) => (
                <KeyRow key={action.key} action={action} />
              ))}
            </tbody>
          </table>
        </section>
      ))}
      <button type="button" className="act" onClick={forgetKeyChoices}>
        Give every action its own keys back
      </button>
    </Dialog>
  );
}

function KeyRow({ action }: { readonly action: Action }): ReactElement {
  const [isAsking, setAsking] = useState(false);
  const keys = keysOf(action);
  return (
    <tr>
      <th scope="row" className="key-name">
        {action.name}
      </th>
      <td>
        <button
          type="button"
          className="act key-act"
          aria-label={`Keys of ${action.name}: ${keys === '' ? 'none' : keysInWords({ ...action, keys })}. Press to change.`}
          onClick={() => setAsking(true)}
          onBlur={() => setAsking(false)}
          onKeyDown={(event) => {
            if (!isAsking) return;
            event.preventDefault();
            event.stopPropagation();
            const pressed = pressedKeys(event);
            if (pressed === null) return;
            setAsking(false);
            if (pressed === 'Escape' || chordOf(pressed) === null) return;
            chooseKeys(action.key, pressed === 'Backspace' ? '' : pressed);
          }}
        >
          {isAsking ? 'press the new keys' : keys === '' ? 'none' : keysInWords({ ...action, keys })}
        </button>
      </td>
      <td className="faint">{keys === action.keys ? action.origin : 'your own'}</td>
    </tr>
  );
}
