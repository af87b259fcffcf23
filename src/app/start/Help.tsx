import { Fragment, type KeyboardEvent, type ReactElement, useState } from 'react';
import { chooseKeys, forgetKeyChoices, useKeyChoices } from '../actions/keyChoices';
import { chordOf, keysOf } from '../actions/keys';
import { ACTIONS, type Action, keysInWords } from '../actions/table';
import { Dialog } from '../parts/Dialog';
import { useDesk } from '../state/desk';

const GROUPS: readonly Action['group'][] = ['Plan', 'Edit', 'View', 'Go', 'Draw', 'Arrange', 'Help'];

/** What no action of the table says: keys and the pointer on the sketch. */
const HINTS: readonly (readonly [string, string])[] = [
  ['A page’s acts', '1 to 9, in the order they stand, while no tool is out.'],
  [
    'Choosing',
    'Comma and full stop walk through what is drawn, < and > through the corners of what is chosen. With the pointer: press a thing, Shift and press for one more; Shift-drag a box, Alt-drag a lasso.',
  ],
  [
    'Moving',
    'Arrow keys move what is chosen, or its chosen corner; with Shift ten times as far, with Alt a tenth.',
  ],
  [
    'Corners and edges',
    'Of the one thing chosen: drag a corner; press an edge to change it, twice to put a corner in.',
  ],
  [
    'Drawing',
    'Arrow keys move the hair, Return places it, Backspace takes the last place back, Escape puts the tool away.',
  ],
  [
    'Writing',
    "A length (12'6, 3.81 m, 150 in), a length and a direction (12'6 at 30, 12'6 N 30 E), a size (12'6 x 20') or a place (E 10 N 5).",
  ],
  ['Catching', 'Held Shift keeps the direction, held Alt keeps the hair from catching.'],
  ['The paper', 'Drag it, or turn the wheel; with Ctrl the wheel zooms.'],
];

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
      <dl className="hints">
        {HINTS.map(([about, how]) => (
          <Fragment key={about}>
            <dt>{about}</dt>
            <dd>{how}</dd>
          </Fragment>
        ))}
      </dl>
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
