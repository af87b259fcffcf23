import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { app, BrowserWindow, dialog, type IpcMainInvokeEvent, ipcMain, Menu, protocol } from 'electron';
import { type Chooser, createFileHost, type FileHost } from '../src/host/node';
import { ACTION_CHANNEL, type CallChannel, OPEN_FILE_CHANNEL } from './channels';
import { denyPermissions, guardPages } from './guard';
import { type MenuAction, menuTemplate } from './menu';
import { BadMessage, bytesOf, fileKindsOf, flagOf, textOf, tokenOf } from './messages';
import { planPathIn } from './planPath';
import { printPdf } from './printing';
import { ORIGIN, serveBundle } from './serve';
import { createUnsavedWork } from './unsaved';

const BUNDLE = join(import.meta.dirname, '..', 'app');

let window: BrowserWindow | null = null;
let isPageReady = false;
let isQuitting = false;
let waitingPath: string | null = planPathIn(process.argv, process.cwd());
const unsaved = createUnsavedWork();

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

const host = createFileHost({
  dataFolder: app.getPath('userData'),
  chooser: shellChooser,
  now: () => new Date().toISOString(),
});

/** Answers one kind of message, from the top frame of our own page only; a malformed one is refused and does nothing. */
function answer(channel: CallChannel, act: (...args: unknown[]) => unknown): void {
  ipcMain.handle(channel, async (event: IpcMainInvokeEvent, ...args: unknown[]) => {
    const sender = event.senderFrame;
    if (!sender?.url.startsWith(`${ORIGIN}/`) || sender.parent !== null)
      throw new Error('refused: not our page');
    try {
      return await act(...args);
    } catch (error) {
      if (error instanceof BadMessage)
        return { kind: 'refused', code: 'host.bad-message', detail: error.message };
      throw error;
    }
  });
}

async function openWaiting(): Promise<void> {
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

async function saving<T extends { readonly kind: string }>(save: Promise<T>): Promise<T> {
  const saved = await save;
  unsaved.saveEnded(saved.kind === 'done');
  return saved;
}

function wire(files: FileHost): void {
  answer('open', (kinds) => files.open(fileKindsOf(kinds)));
  answer('recent', () => files.recent());
  answer('openRecent', (token) => files.openRecent(textOf(token, 100)));
  answer('save', (token, name, bytes) => saving(files.save(tokenOf(token), textOf(name), bytesOf(bytes))));
  answer('saveAs', (name, bytes) => saving(files.saveAs(textOf(name), bytesOf(bytes))));
  answer('exportBytes', (name, bytes) => files.exportBytes(textOf(name), bytesOf(bytes)));
  answer('print', (pdf) => printPdf(bytesOf(pdf)));
  answer('journalAppend', (planId, line, name, begins) =>
    files.journalAppend({
      planId: textOf(planId),
      line: textOf(line, 10_000_000),
      name: textOf(name),
      begins: flagOf(begins),
    }),
  );
  answer('journalRead', () => files.journalRead());
  answer('journalClear', (planId) => files.journalClear(textOf(planId)));
  answer('setUnsaved', (isUnsaved, name) => {
    const planName = flagOf(isUnsaved) ? textOf(name) : null;
    window?.setDocumentEdited(planName !== null);
    unsaved.tell(planName);
  });
  answer('ready', () => {
    isPageReady = true;
    return openWaiting();
  });
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
  opened.once('ready-to-show', () => opened.show());
  unsaved.watch(opened, {
    go: () => (isQuitting ? app.quit() : opened.close()),
    stay: () => {
      isQuitting = false;
    },
  });
  opened.on('closed', () => {
    window = null;
    isPageReady = false;
    unsaved.tell(null);
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

async function show(): Promise<void> {
  window = openWindow();
  const choose = (key: string): void => window?.webContents.send(ACTION_CHANNEL, key);
  Menu.setApplicationMenu(
    Menu.buildFromTemplate(menuTemplate(readActions(), choose, process.platform === 'darwin')),
  );
  await window.loadURL(`${ORIGIN}/index.html`);
}

/** Opens a plan the system or a second start hands over, in a window made for it where none is left. */
function openGiven(path: string | null): void {
  waitingPath = path ?? waitingPath;
  if (window === null) {
    if (app.isReady()) void show();
    return;
  }
  if (window.isMinimized()) window.restore();
  window.focus();
  void openWaiting();
}

async function start(): Promise<void> {
  if (!app.requestSingleInstanceLock()) {
    app.quit();
    return;
  }
  protocol.registerSchemesAsPrivileged([
    { scheme: 'app', privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true } },
  ]);
  guardPages();
  // A plan double-clicked in the file manager may be announced before the program is ready.
  app.on('open-file', (event, path) => {
    event.preventDefault();
    openGiven(path);
  });
  app.on('second-instance', (_event, args, folder) => openGiven(planPathIn(args, folder)));
  app.on('before-quit', () => {
    isQuitting = true;
  });
  app.on('window-all-closed', () => {
    if (process.platform !== 'darwin') app.quit();
  });
  let isJournalClosed = false;
  app.on('will-quit', (event) => {
    if (isJournalClosed) return;
    event.preventDefault();
    host.close().finally(() => {
      isJournalClosed = true;
      app.quit();
    });
  });
  await app.whenReady();
  protocol.handle('app', (request) => serveBundle(BUNDLE, request));
  denyPermissions();
  wire(host);
  app.on('activate', () => {
    if (window === null) void show();
  });
  await show();
}

start().catch((error: unknown) => {
  console.error(error);
  app.exit(1);
});
