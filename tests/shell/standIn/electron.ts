import { EventEmitter } from 'node:events';
import type { Page } from 'playwright';
import { control, isHeldBack, type MenuItem, type MessageHandler } from './control';
import { openPage, type Peer } from './page';

export { control } from './control';

/** Plays the slice of the desktop runtime's module that the shell imports; a real Chromium page plays each window. */
class App extends EventEmitter {
  #isReady = false;
  async whenReady(): Promise<void> {
    await new Promise((resolve) => setImmediate(resolve));
    this.#isReady = true;
  }
  isReady(): boolean {
    return this.#isReady;
  }
  getPath(): string {
    return control.dataFolder;
  }
  requestSingleInstanceLock(): boolean {
    return control.isOnlyInstance;
  }
  addRecentDocument(path: string): void {
    control.recentDocuments.push(path);
  }
  quit(): void {
    this.emit('before-quit');
    for (const window of [...control.windows]) if (!window.closeUnlessHeld()) return;
    if (!isHeldBack(this, 'will-quit')) control.hasQuit = true;
  }
  exit(): void {
    control.hasQuit = true;
  }
}
export const app = new App();

export const protocol = {
  registerSchemesAsPrivileged(schemes: { scheme: string; privileges: Record<string, unknown> }[]): void {
    if (app.isReady()) throw new Error('schemes are registered before the program is ready');
    for (const { scheme, privileges } of schemes) control.privileges.set(scheme, privileges);
  },
  handle(scheme: string, answer: (request: Request) => Promise<Response>): void {
    if (!app.isReady()) throw new Error('protocols are handled once the program is ready');
    if (control.protocols.has(scheme)) throw new Error(`${scheme} is handled already`);
    control.protocols.set(scheme, answer);
  },
};

export const session = {
  defaultSession: {
    setPermissionRequestHandler(handler: NonNullable<typeof control.permissionRequest>): void {
      control.permissionRequest = handler;
    },
    setPermissionCheckHandler(handler: () => boolean): void {
      control.permissionCheck = handler;
    },
  },
};

export const ipcMain = {
  handle(channel: string, answer: MessageHandler): void {
    if (control.handlers.has(channel)) throw new Error(`${channel} is answered already`);
    control.handlers.set(channel, answer);
  },
};

function nextAnswer<T>(kind: string, answers: T[], options: Record<string, unknown>): T {
  control.dialogs.push({ kind, options });
  if (answers.length === 0) throw new Error(`a dialogue (${kind}) that the test did not foresee`);
  return answers.shift() as T;
}

export const dialog = {
  async showOpenDialog(_window: unknown, options: Record<string, unknown>) {
    const path = nextAnswer('open', control.openAnswers, options);
    return { canceled: path === null, filePaths: path === null ? [] : [path] };
  },
  async showSaveDialog(_window: unknown, options: Record<string, unknown>) {
    const path = nextAnswer('save', control.saveAnswers, options);
    return { canceled: path === null, filePath: path ?? '' };
  },
  async showMessageBox(_window: unknown, options: Record<string, unknown>) {
    return { response: nextAnswer('message', control.messageAnswers, options) };
  },
  showErrorBox(title: string, text: string): void {
    control.dialogs.push({ kind: 'error', options: { title, text } });
  },
};

export const Menu = {
  buildFromTemplate: (template: readonly MenuItem[]) => template,
  setApplicationMenu(menu: readonly MenuItem[]): void {
    control.menu = menu;
  },
};

type OpenHandler = (details: { readonly url: string }) => { readonly action: 'deny' | 'allow' };

class WebContents extends EventEmitter {
  readonly #window: BrowserWindow;
  openHandler: OpenHandler | null = null;
  constructor(window: BrowserWindow) {
    super();
    this.#window = window;
  }
  send(channel: string, ...args: unknown[]): void {
    this.#window.peer?.send(channel, args);
  }
  print(_options: object, done: (isPrinted: boolean, reason: string) => void): void {
    control.printed += 1;
    done(true, '');
  }
  setWindowOpenHandler(handler: OpenHandler): void {
    this.openHandler = handler;
  }
}

export interface WindowOptions {
  readonly width?: number;
  readonly height?: number;
  readonly webPreferences?: Readonly<Record<string, unknown>>;
}

export class BrowserWindow extends EventEmitter {
  readonly webContents: WebContents;
  readonly options: WindowOptions;
  peer: Peer | null = null;
  url = '';
  isEdited = false;
  focused = 0;
  minimized = false;
  isLoaded = false;

  constructor(options: WindowOptions) {
    super();
    this.options = options;
    this.webContents = new WebContents(this);
    control.windows.push(this);
    app.emit('web-contents-created', {}, this.webContents);
  }
  get page(): Page | null {
    return this.peer?.page ?? null;
  }
  show(): void {}
  focus(): void {
    this.focused += 1;
  }
  isMinimized(): boolean {
    return this.minimized;
  }
  restore(): void {
    this.minimized = false;
  }
  setDocumentEdited(isEdited: boolean): void {
    this.isEdited = isEdited;
  }
  async loadURL(url: string): Promise<void> {
    this.url = url;
    if (control.hasPages && url.startsWith('app:')) this.peer = await openPage(this, url);
    this.isLoaded = true;
    this.emit('ready-to-show');
  }
  close(): void {
    if (!this.closeUnlessHeld()) return;
    if (control.windows.length === 0) app.emit('window-all-closed');
  }
  destroy(): void {
    this.#leave();
  }
  /** Closes, unless the shell holds the window back; says which. */
  closeUnlessHeld(): boolean {
    if (isHeldBack(this, 'close')) return false;
    this.#leave();
    return true;
  }
  #leave(): void {
    const at = control.windows.indexOf(this);
    if (at < 0) return;
    control.windows.splice(at, 1);
    void this.peer?.page.close();
    this.emit('closed');
  }
}
