import type { Host } from '../contract';

/** The host that the desktop shell's preload put into the page, or null in a browser. */
export function windowHost(): Host | null {
  const given: unknown = (globalThis as { rillsheetHost?: unknown }).rillsheetHost;
  return typeof given === 'object' && given !== null ? (given as Host) : null;
}
