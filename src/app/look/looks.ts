/** How the desk is lit. `system` follows what the operating system asks for. */
export type Look = 'system' | 'light' | 'dark' | 'contrast';
export const LOOKS: readonly Look[] = ['system', 'light', 'dark', 'contrast'];
export const LOOK_NAMES: Readonly<Record<Look, string>> = {
  system: 'As the system',
  light: 'Light',
  dark: 'Dark',
  contrast: 'High contrast',
};

/** Puts a look on the page. */
export function applyLook(look: Look): void {
  if (look === 'system') delete document.documentElement.dataset.look;
  else document.documentElement.dataset.look = look;
}
