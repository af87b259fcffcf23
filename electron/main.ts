import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  app,
  BrowserWindow,
  dialog,
  type IpcMainInvokeEvent,
  ipcMain,
  Menu,
  protocol,
  session,
} from 'electron';
import {
  type Chooser,
  contentTypeOf,
  createFileHost,
  type FileHost,
  readBundleFile,
  SAFE_HEADERS,
} from '../src/host/node';
import { ACTION_CHANNEL, type CallChannel, OPEN_FILE_CHANNEL } from './channels';
import { type MenuAction, menuTemplate } from './menu';
import { BadMessage, bytesOf, fileKindsOf, flagOf, textOf, tokenOf } from './messages';

const ORIGIN = 'app://rillsheet';
const BUNDLE = join(import.meta.dirname, '..', 'app');

protocol.registerSchemesAsPrivileged([
  { scheme: 'app', privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true } },
]);

let window: BrowserWindow | null = null;
let unsavedName: string | null = null;
let isPageReady = false;
let waitingPath: string | null = planPathIn(process.argv);

/** The plan named on the command line, if there is one. */
function planPathIn(args: readonly string[]): string | null {
  return args.slice(1).find((arg) => /\.(json|geojson)$/i.test(arg) && !arg.startsWith('-')) ?? null;
}

async function serveBundle(request: Request): Promise<Response> {
  const url = new URL(request.url);
  const file = url.host === 'rillsheet' ? await readBundleFile(BUNDLE, url.pathname) : null;
  if (file === null) return new Response('not here', { status: 404, headers: SAFE_HEADERS });
  return new Response(new Uint8Array(file.bytes), {
    headers: { ...SAFE_HEADERS, 'content-type': contentTypeOf(file.path) },
  });
}

const shellChooser: Chooser = {
  async openPath(kinds) {
    if (window === null) return null;
    const answer = await dialog.showOpenDialog(window, {
      properties: ['openFile'],
      filters: kinds.map((kind) => ({ name: kind.label, extensions: [...kind.extensions] })),
    });
    return answer.canceled ? null : (answer.filePaths[0] ?? null);
  },
  async savePath(suggestedName) {
    if (window === null) return null;
    const answer = await dialog.showSaveDialog(window, { defaultPath: suggestedName });
    return answer.canceled || answer.filePath === '' ? null : answer.filePath;
  },
};

/** Answers one kind of message, from our own page only; a malformed one is refused and does nothing. */
function answer(channel: CallChannel, act: (...args: unknown[]) => unknown): void {
  ipcMain.handle(channel, async (event: IpcMainInvokeEvent, ...args: unknown[]) => {
    if (!event.senderFrame?.url.startsWith(`${ORIGIN}/`)) throw new Error('refused: not our page');
    try {
      return await act(...args);
    } catch (error) {
      if (error instanceof BadMessage)
        return { kind: 'refused', code: 'host.bad-message', detail: error.message };
      throw error;
    }
  });
}

async function openWaiting(host: FileHost): Promise<void> {
  if (!isPageReady || waitingPath === null || window === null) return;
  const path = waitingPath;
  waitingPath = null;
  const opened = await host.openPath(path);
  if (opened.kind === 'done') {
    app.addRecentDocument(path);
    window.webContents.send(OPEN_FILE_CHANNEL, opened.value);
  } else if (opened.kind === 'refused')
    dialog.showErrorBox('This plan could not be opened', `${path}\n${opened.detail}`);
}

async function printPdf(
  pdf: Uint8Array,
): Promise<{ kind: 'done'; value: null } | { kind: 'refused'; code: string; detail: string }> {
  const sheet = new BrowserWindow({
    show: false,
    webPreferences: { sandbox: true, contextIsolation: true, nodeIntegration: false, plugins: true },
  });
  try {
    await sheet.loadURL(`data:application/pdf;base64,${Buffer.from(pdf).toString('base64')}`);
    return await new Promise((resolve) => {
      sheet.webContents.print({}, (isPrinted, reason) =>
        resolve(
          isPrinted
            ? { kind: 'done', value: null }
            : { kind: 'refused', code: 'host.not-printed', detail: reason },
        ),
      );
    });
  } finally {
    sheet.destroy();
  }
}

function wire(host: FileHost): void {
  answer('open', (kinds) => host.open(fileKindsOf(kinds)));
  answer('recent', () => host.recent());
  answer('openRecent', (token) => host.openRecent(textOf(token, 100)));
  answer('save', (token, name, bytes) => host.save(tokenOf(token), textOf(name), bytesOf(bytes)));
  answer('saveAs', (name, bytes) => host.saveAs(textOf(name), bytesOf(bytes)));
  answer('exportBytes', (name, bytes) => host.exportBytes(textOf(name), bytesOf(bytes)));
  answer('print', (pdf) => printPdf(bytesOf(pdf)));
  answer('journalAppend', (planId, line) =>
    host.journalAppend({ planId: textOf(planId), line: textOf(line, 10_000_000) }),
  );
  answer('journalRead', () => host.journalRead());
  answer('journalClear', (planId) => host.journalClear(textOf(planId)));
  answer('setUnsaved', (unsaved, name) => {
    unsavedName = flagOf(unsaved) ? textOf(name) : null;
    window?.setDocumentEdited(unsavedName !== null);
  });
  answer('ready', () => {
    isPageReady = true;
    return openWaiting(host);
  });
}

/** Asks before work is lost. True: the window may close. */
async function mayClose(target: BrowserWindow): Promise<boolean> {
  if (unsavedName === null) return true;
  const { response } = await dialog.showMessageBox(target, {
    type: 'warning',
    message: `"${unsavedName}" has changes that are not saved.`,
    detail: 'They are kept in the recovery journal and offered at the next start.',
    buttons: ['Keep working', 'Close without saving'],
    defaultId: 0,
    cancelId: 0,
  });
  return response === 1;
}

function openWindow(): BrowserWindow {
  const opened = new BrowserWindow({
    width: 1440,
    height: 900,
    show: false,
    webPreferences: {
      preload: join(import.meta.dirname, 'preload.cjs'),
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      webviewTag: false,
      spellcheck: false,
    },
  });
  let isAllowed = false;
  opened.webContents.setWindowOpenHandler(() => ({ action: 'deny' }));
  opened.webContents.on('will-navigate', (event) => event.preventDefault());
  opened.webContents.on('will-attach-webview', (event) => event.preventDefault());
  opened.once('ready-to-show', () => opened.show());
  opened.on('close', (event) => {
    if (isAllowed || unsavedName === null) return;
    event.preventDefault();
    mayClose(opened).then((allowed) => {
      isAllowed = allowed;
      if (allowed) opened.close();
    });
  });
  opened.on('closed', () => {
    window = null;
    isPageReady = false;
  });
  return opened;
}

function readActions(): readonly MenuAction[] {
  try {
    return JSON.parse(readFileSync(join(BUNDLE, 'actions.json'), 'utf8')) as MenuAction[];
  } catch {
    return [];
  }
}

async function start(): Promise<void> {
  if (!app.requestSingleInstanceLock()) {
    app.quit();
    return;
  }
  await app.whenReady();
  protocol.handle('app', serveBundle);
  session.defaultSession.setPermissionRequestHandler((_contents, _permission, decide) => decide(false));
  session.defaultSession.setPermissionCheckHandler(() => false);
  const host = createFileHost({
    dataFolder: app.getPath('userData'),
    chooser: shellChooser,
    now: () => new Date().toISOString(),
  });
  wire(host);
  const show = async (): Promise<void> => {
    window = openWindow();
    Menu.setApplicationMenu(
      Menu.buildFromTemplate(
        menuTemplate(readActions(), (key) => window?.webContents.send(ACTION_CHANNEL, key)),
      ),
    );
    await window.loadURL(`${ORIGIN}/index.html`);
  };
  app.on('open-file', (event, path) => {
    event.preventDefault();
    waitingPath = path;
    void openWaiting(host);
  });
  app.on('second-instance', (_event, args) => {
    waitingPath = planPathIn(args);
    window?.focus();
    void openWaiting(host);
  });
  app.on('activate', () => {
    if (window === null) void show();
  });
  app.on('window-all-closed', () => {
    if (process.platform !== 'darwin') app.quit();
  });
  await show();
}

start().catch((error: unknown) => {
  console.error(error);
  app.exit(1);
});
