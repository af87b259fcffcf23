/**
 * The slice of the desktop runtime's module that the shell uses. Declared here because the runtime is optional: its package
 * installs on newer Node only, and types, tests and the browser fallback must not depend on it. The tests' stand-in plays this slice.
 */
declare module 'electron' {
  interface Preventable {
    preventDefault(): void;
  }
  interface IpcMainInvokeEvent {
    readonly senderFrame: { readonly url: string; readonly parent: object | null } | null;
  }
  interface WebContents {
    send(channel: string, ...args: unknown[]): void;
    print(options: object, done: (isPrinted: boolean, reason: string) => void): void;
    setWindowOpenHandler(
      handler: (details: { readonly url: string }) => { readonly action: 'deny' | 'allow' },
    ): void;
    on(
      event: 'will-navigate' | 'will-redirect' | 'will-attach-webview',
      listener: (event: Preventable) => void,
    ): void;
  }
  interface WindowOptions {
    readonly width?: number;
    readonly height?: number;
    readonly show?: boolean;
    readonly webPreferences?: {
      readonly preload?: string;
      readonly sandbox: boolean;
      readonly contextIsolation: boolean;
      readonly nodeIntegration: boolean;
      readonly webviewTag?: boolean;
      readonly spellcheck?: boolean;
      readonly plugins?: boolean;
    };
  }
  class BrowserWindow {
    constructor(options: WindowOptions);
    static getAllWindows(): BrowserWindow[];
    readonly webContents: WebContents;
    show(): void;
    focus(): void;
    isMinimized(): boolean;
    restore(): void;
    close(): void;
    destroy(): void;
    setDocumentEdited(isEdited: boolean): void;
    loadURL(url: string): Promise<void>;
    once(event: 'ready-to-show', listener: () => void): void;
    on(event: 'close', listener: (event: Preventable) => void): void;
    on(event: 'closed', listener: () => void): void;
  }
  const app: {
    whenReady(): Promise<void>;
    isReady(): boolean;
    getPath(name: 'userData'): string;
    requestSingleInstanceLock(): boolean;
    addRecentDocument(path: string): void;
    quit(): void;
    exit(code: number): void;
    emit(event: string, ...args: unknown[]): boolean;
    on(event: 'open-file', listener: (event: Preventable, path: string) => void): void;
    on(event: 'second-instance', listener: (event: unknown, args: string[], folder: string) => void): void;
    on(event: 'activate' | 'window-all-closed' | 'before-quit', listener: () => void): void;
    on(event: 'will-quit', listener: (event: Preventable) => void): void;
    on(event: 'web-contents-created', listener: (event: unknown, contents: WebContents) => void): void;
  };
  const dialog: {
    showOpenDialog(
      window: BrowserWindow,
      options: {
        readonly properties: readonly string[];
        readonly filters: readonly { name: string; extensions: string[] }[];
      },
    ): Promise<{ readonly canceled: boolean; readonly filePaths: readonly string[] }>;
    showSaveDialog(
      window: BrowserWindow,
      options: { readonly defaultPath: string },
    ): Promise<{ readonly canceled: boolean; readonly filePath: string }>;
    showMessageBox(
      window: BrowserWindow,
      options: {
        type: 'warning';
        message: string;
        detail: string;
        buttons: string[];
        defaultId: number;
        cancelId: number;
      },
    ): Promise<{ readonly response: number }>;
    showErrorBox(title: string, text: string): void;
  };
  const ipcMain: {
    handle(channel: string, answer: (event: IpcMainInvokeEvent, ...args: unknown[]) => unknown): void;
  };
  const ipcRenderer: {
    invoke(channel: string, ...args: readonly unknown[]): Promise<never>;
    on(channel: string, listener: (event: unknown, value: never) => void): void;
    off(channel: string, listener: (event: unknown, value: never) => void): void;
  };
  const contextBridge: { exposeInMainWorld(key: string, value: unknown): void };
  interface MenuItemConstructorOptions {
    id?: string;
    label?: string;
    type?: 'separator';
    role?: string;
    accelerator?: string;
    registerAccelerator?: boolean;
    submenu?: MenuItemConstructorOptions[];
    click?: () => void;
  }
  interface ApplicationMenu {
    getMenuItemById(id: string): { click(): void } | null;
  }
  const Menu: {
    buildFromTemplate(template: MenuItemConstructorOptions[]): ApplicationMenu;
    setApplicationMenu(menu: ApplicationMenu): void;
    getApplicationMenu(): ApplicationMenu | null;
  };
  const protocol: {
    registerSchemesAsPrivileged(
      schemes: {
        scheme: string;
        privileges: { standard: boolean; secure: boolean; supportFetchAPI: boolean; codeCache: boolean };
      }[],
    ): void;
    handle(scheme: string, answer: (request: Request) => Promise<Response>): void;
  };
  const session: {
    readonly defaultSession: {
      setPermissionRequestHandler(
        handler: (contents: unknown, permission: string, decide: (isAllowed: boolean) => void) => void,
      ): void;
      setPermissionCheckHandler(handler: () => boolean): void;
    };
  };
}
