import { create } from 'zustand';
import { host } from '../state/host';
import { ACTIONS } from './table';

/** The name it is remembered by. */
export const KEYS = 'keys';

function readKeys(text: string): Readonly<Record<string, string>> {
  try {
    const parsed: unknown = JSON.parse(text);
    if (typeof parsed !== 'object' || parsed === null) return {};
    return Object.fromEntries(
      Object.entries(parsed).filter(([, keys]) => typeof keys === 'string' && keys.length < 40),
    );
  } catch {
    return {};
  }
}

/** Keys the designer has given to actions, by action. */
export const useKeyChoices = create<{ readonly chosen: Readonly<Record<string, string>> }>(() => ({
  chosen: {},
}));

/** Puts back what was remembered; a text that is none gives the table's own keys. */
export const recallKeys = (text: string): void => useKeyChoices.setState({ chosen: readKeys(text) });

/** Gives keys to an action and takes them from whichever had them: keys are unique. */
export function chooseKeys(actionKey: string, keys: string): void {
  const { chosen } = useKeyChoices.getState();
  const next: Record<string, string> = { ...chosen, [actionKey]: keys };
  for (const other of ACTIONS) {
    const present = next[other.key] ?? other.keys;
    if (other.key !== actionKey && keys !== '' && present === keys) next[other.key] = '';
  }
  void host.remember(KEYS, JSON.stringify(next));
  useKeyChoices.setState({ chosen: next });
}

/** Back to the table's own keys. */
export function forgetKeyChoices(): void {
  void host.remember(KEYS, null);
  useKeyChoices.setState({ chosen: {} });
}
