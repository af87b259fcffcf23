import type { Host, ShellHost } from '../contract';
import { recallHere, rememberHere } from './memory';

/** The host that the desktop shell's preload put into the page, or null in a browser. The page's own store remembers: its address never changes. */
export function windowHost(): Host | null {
  const given: unknown = (globalThis as { rillsheetHost?: unknown }).rillsheetHost;
  if (typeof given !== 'object' || given === null) return null;
  return {
    ...(given as ShellHost),
    recall: () => Promise.resolve(recallHere()),
    remember: (name, value) => Promise.resolve(rememberHere(name, value)),
  };
}
