import { useDesk } from '../state/desk';
import { useTool } from '../state/tools';
import { useKeyChoices } from './keyChoices';
import { runAction } from './run';
import { ACTIONS, type Action, PAGE_ACTS } from './table';

interface Chord {
  readonly key: string;
  readonly isMod: boolean;
  readonly isAlt: boolean;
  readonly isShift: boolean;
}

/** "Mod+Shift+S" as its parts; a lone "+" is a key of its own. */
export function chordOf(keys: string): Chord | null {
  if (keys === '') return null;
  const parts = keys === '+' ? ['+'] : keys.split('+');
  return {
    key: (parts.at(-1) ?? '').toLowerCase(),
    isMod: parts.includes('Mod'),
    isAlt: parts.includes('Alt'),
    isShift: parts.includes('Shift'),
  };
}

/** The chord of an event. A digit is taken from the key's place, so that Shift and national layouts do not hide it. */
export function pressedChord(event: KeyboardEvent): Chord {
  const digit = /^Digit(\d)$/.exec(event.code)?.[1];
  return {
    key: digit ?? event.key.toLowerCase(),
    isMod: event.ctrlKey || event.metaKey,
    isAlt: event.altKey,
    isShift: event.shiftKey,
  };
}

/** `+` needs Shift on some keyboards, so Shift is not asked of signs. */
const isSign = (key: string): boolean => key === '+' || key === '-';

const isSame = (a: Chord, b: Chord): boolean =>
  a.key === b.key && a.isMod === b.isMod && a.isAlt === b.isAlt && (a.isShift === b.isShift || isSign(a.key));

const isTyping = (target: EventTarget | null): target is HTMLElement =>
  target instanceof HTMLElement && target.matches('input:not([type=checkbox]), textarea, select');

/** A field keeps what is written in it when it is left; an action that takes its page away would take the words along. */
function keepWriting(field: HTMLElement): void {
  field.blur();
  field.focus();
}

/** The system's keys for choosing, cutting and pasting belong to the words while one writes. */
const isOfText = ({ key, isMod }: Chord): boolean => isMod && 'acvx'.includes(key);

/** Keys in force: the designer's own, else the table's. */
export const keysOf = (action: Action): string => useKeyChoices.getState().chosen[action.key] ?? action.keys;

function actByNumber(event: KeyboardEvent): string | null {
  if (event.ctrlKey || event.metaKey || event.altKey || event.shiftKey) return null;
  if (useTool.getState().key !== null) return null;
  const digit = Number(event.key);
  return PAGE_ACTS[useDesk.getState().step][digit - 1] ?? null;
}

/** Listens on the whole window; what the sketch and the fields take for themselves never gets here. */
export function listenForKeys(): () => void {
  const listener = (event: KeyboardEvent): void => {
    if (event.defaultPrevented || useDesk.getState().panel !== 'none') return;
    const pressed = pressedChord(event);
    const isPlain = !pressed.isMod && !pressed.isAlt && !/^f\d+$/.test(pressed.key);
    if (isTyping(event.target) && (isPlain || isOfText(pressed))) return;
    const found = ACTIONS.find((action) => {
      const chord = chordOf(keysOf(action));
      return chord !== null && isSame(chord, pressed);
    });
    const key = found?.key ?? actByNumber(event);
    if (!key) return;
    event.preventDefault();
    if (isTyping(event.target)) keepWriting(event.target);
    runAction(key);
    if (key.startsWith('tool.')) document.getElementById('sketch')?.focus();
  };
  window.addEventListener('keydown', listener);
  return () => window.removeEventListener('keydown', listener);
}
