import { contextBridge, ipcRenderer } from 'electron';
import type { OpenedFile, ShellHost } from '../src/host/contract';
import { ACTION_CHANNEL, type CallChannel, OPEN_FILE_CHANNEL } from './channels';

const call = (channel: CallChannel, ...args: readonly unknown[]) => ipcRenderer.invoke(channel, ...args);

/** Only listeners of the two messages the shell sends; the event itself never reaches the page. */
function listen<T>(channel: string, listener: (value: T) => void): () => void {
  const hear = (_event: unknown, value: T): void => listener(value);
  ipcRenderer.on(channel, hear);
  return () => {
    ipcRenderer.off(channel, hear);
  };
}

const host: ShellHost = {
  kind: 'window',
  open: (kinds) => call('open', kinds),
  recent: () => call('recent'),
  openRecent: (file) => call('openRecent', file.token),
  save: (file, suggestedName, bytes) => call('save', file?.token ?? null, suggestedName, bytes),
  saveAs: (suggestedName, bytes) => call('saveAs', suggestedName, bytes),
  exportBytes: (suggestedName, _mimeType, bytes) => call('exportBytes', suggestedName, bytes),
  print: (pdf, title) => call('print', pdf, title),
  journalAppend: (entry) =>
    call('journalAppend', entry.planId, entry.line, entry.name ?? '', entry.begins ?? false),
  journalRead: () => call('journalRead'),
  journalClear: (planId) => call('journalClear', planId),
  onAction: (listener) => listen<string>(ACTION_CHANNEL, listener),
  onOpenFile: (listener) => {
    const stop = listen<OpenedFile>(OPEN_FILE_CHANNEL, listener);
    void call('ready');
    return stop;
  },
  setUnsaved: (unsaved, planName) => {
    void call('setUnsaved', unsaved, planName);
  },
};

contextBridge.exposeInMainWorld('rillsheetHost', host);
