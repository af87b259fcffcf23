import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { _electron, type Page } from 'playwright';
import { vi } from 'vitest';
import { findRuntime } from '../../build/desktopRuntime.mjs';

const MAIN = fileURLToPath(new URL('../../dist/electron/main.js', import.meta.url));

/** A started shell, whether the runtime is played or real. */
export interface Shell {
  readonly page: Page;
  answerOpen(path: string | null): Promise<void>;
  answerSave(path: string | null): Promise<void>;
  /** Presses this button of the next message box. */
  answerMessage(button: number): Promise<void>;
  messagesShown(): Promise<number>;
  chooseMenu(actionKey: string): Promise<void>;
  closeWindow(): Promise<void>;
  windowCount(): Promise<number>;
  /** The system hands over a file, as a Mac does. */
  openFromSystem(path: string): Promise<void>;
  /** The program is started a second time with these arguments. */
  startAgain(args: readonly string[], folder: string): Promise<void>;
  end(): Promise<void>;
}

/** The real runtime's binary, or null with the reason the tests print. */
export const runtimeBinary = (): string | null => findRuntime();

/** A fresh stand-in with a fresh shell on top of it. `platform` is what the shell takes the system to be. */
export async function launchStandIn(
  options: {
    readonly args?: readonly string[];
    readonly platform?: NodeJS.Platform;
    readonly hasPages?: boolean;
    readonly isOnlyInstance?: boolean;
  } = {},
): Promise<Shell & { readonly control: typeof import('./standIn/control').control }> {
  if (!existsSync(MAIN)) throw new Error('the shell is not built');
  vi.resetModules();
  const { control } = await import('./standIn/control');
  const { app } = await import('./standIn/electron');
  const { closeBrowser } = await import('./standIn/page');
  control.hasPages = options.hasPages ?? true;
  control.isOnlyInstance = options.isOnlyInstance ?? true;
  const before = { argv: process.argv, platform: process.platform };
  process.argv = ['shell', MAIN, ...(options.args ?? [])];
  Object.defineProperty(process, 'platform', { value: options.platform ?? 'linux' });
  await import(/* @vite-ignore */ MAIN);
  const isUp = (): boolean => control.windows[0]?.isLoaded === true;
  if (control.isOnlyInstance) await vi.waitUntil(isUp, { timeout: 120_000, interval: 20 });
  return {
    control,
    get page() {
      const page = control.windows[0]?.page;
      if (!page) throw new Error('no window has a page');
      return page;
    },
    answerOpen: async (path) => void control.openAnswers.push(path),
    answerSave: async (path) => void control.saveAnswers.push(path),
    answerMessage: async (button) => void control.messageAnswers.push(button),
    messagesShown: async () => control.dialogs.filter((shown) => shown.kind === 'message').length,
    async chooseMenu(actionKey) {
      const item = control.menu
        .flatMap((menu) => menu.submenu ?? [])
        .find((candidate) => candidate.id === actionKey);
      if (!item?.click) throw new Error(`no menu item ${actionKey}`);
      item.click();
    },
    closeWindow: async () => control.windows[0]?.close(),
    windowCount: async () => control.windows.length,
    openFromSystem: async (path) => void app.emit('open-file', { preventDefault: () => undefined }, path),
    startAgain: async (args, folder) =>
      void app.emit('second-instance', {}, ['shell', MAIN, ...args], folder),
    async end() {
      await closeBrowser();
      rmSync(control.dataFolder, { recursive: true, force: true });
      process.argv = before.argv;
      Object.defineProperty(process, 'platform', { value: before.platform });
    },
  };
}

/** The same shell in the real runtime. */
export async function launchReal(): Promise<Shell> {
  const data = mkdtempSync(join(tmpdir(), 'rillsheet-real-'));
  const isRoot = process.getuid?.() === 0;
  const running = await _electron.launch({
    executablePath: runtimeBinary() ?? '',
    args: [MAIN, `--user-data-dir=${data}`, ...(isRoot ? ['--no-sandbox'] : [])],
  });
  const page = await running.firstWindow();
  await running.evaluate(({ dialog }) => {
    const shown = { open: [], save: [], message: [], messages: 0 } as {
      open: (string | null)[];
      save: (string | null)[];
      message: number[];
      messages: number;
    };
    Object.assign(globalThis, { shown });
    Object.assign(dialog, {
      showOpenDialog: async () => {
        const path = shown.open.shift() ?? null;
        return { canceled: path === null, filePaths: path === null ? [] : [path] };
      },
      showSaveDialog: async () => {
        const path = shown.save.shift() ?? null;
        return { canceled: path === null, filePath: path ?? '' };
      },
      showMessageBox: async () => {
        shown.messages += 1;
        return { response: shown.message.shift() ?? 1 };
      },
    });
  });
  const push = (queue: 'open' | 'save' | 'message', value: string | number | null) =>
    running.evaluate(
      (_runtime, [name, item]) =>
        (globalThis as unknown as { shown: Record<string, unknown[]> }).shown[String(name)]?.push(item),
      [queue, value] as const,
    );
  return {
    page,
    answerOpen: async (path) => void (await push('open', path)),
    answerSave: async (path) => void (await push('save', path)),
    answerMessage: async (button) => void (await push('message', button)),
    messagesShown: () =>
      running.evaluate(() => (globalThis as unknown as { shown: { messages: number } }).shown.messages),
    chooseMenu: (key) =>
      running.evaluate(({ Menu }, id) => Menu.getApplicationMenu()?.getMenuItemById(id)?.click(), key),
    closeWindow: () => running.evaluate(({ BrowserWindow }) => BrowserWindow.getAllWindows()[0]?.close()),
    windowCount: () => running.evaluate(({ BrowserWindow }) => BrowserWindow.getAllWindows().length),
    openFromSystem: async (path) =>
      void (await running.evaluate(
        ({ app }, file) => app.emit('open-file', { preventDefault: () => undefined }, file),
        path,
      )),
    startAgain: async (args, folder) =>
      void (await running.evaluate(
        ({ app }, [list, place]) => app.emit('second-instance', {}, ['', '', ...list], place),
        [args, folder] as const,
      )),
    async end() {
      await running.evaluate(({ app }) => app.exit(0)).catch(() => undefined);
    },
  };
}
