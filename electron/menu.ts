import type { MenuItemConstructorOptions } from 'electron';

/** One action of the app's own table, as the build writes it down for the shell. */
export interface MenuAction {
  readonly key: string;
  readonly label: string;
  /** Menu it stands in: "File", "Edit", "View" ... */
  readonly menu: string;
  readonly accelerator?: string;
}

/** Actions the system has its own words and behaviour for. */
const SYSTEM_MENUS: Readonly<Record<string, readonly MenuItemConstructorOptions[]>> = {
  File: [{ type: 'separator' }, { role: 'quit' }],
  Edit: [{ type: 'separator' }, { role: 'cut' }, { role: 'copy' }, { role: 'paste' }],
  Window: [{ role: 'minimize' }, { role: 'togglefullscreen' }],
};

/**
 * Native menus out of the app's action table, so that menu, keys and action list never differ. The keys are shown but not taken
 * by the menu: the page hears them itself, and a text field keeps its own undo.
 *
 * @param isMac a Mac's first menu is the program's own
 */
export function menuTemplate(
  actions: readonly MenuAction[],
  choose: (actionKey: string) => void,
  isMac: boolean,
): MenuItemConstructorOptions[] {
  const names = [...new Set([...actions.map((action) => action.menu), 'Window'])];
  const menus = names.map(
    (name): MenuItemConstructorOptions => ({
      label: name,
      submenu: [
        ...actions
          .filter((action) => action.menu === name)
          .map((action) => ({
            id: action.key,
            label: action.label,
            ...(action.accelerator === undefined
              ? {}
              : { accelerator: action.accelerator, registerAccelerator: false }),
            click: () => choose(action.key),
          })),
        ...(SYSTEM_MENUS[name] ?? []),
      ],
    }),
  );
  return isMac ? [{ role: 'appMenu' }, ...menus] : menus;
}
