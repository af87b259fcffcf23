import type { Host } from '../contract';
import { chooseFile } from './chooseFile';
import { download } from './download';
import { appendToJournal, clearJournal, readJournals } from './journal';
import { recallHere, rememberHere } from './memory';
import { printPdf } from './printPdf';

/** The contract kept by a plain browser: choose, download, print, and a journal in the browser's own store. */
export function browserHost(): Host {
  let unsavedWork = false;
  addEventListener('beforeunload', (event) => {
    if (unsavedWork) event.preventDefault();
  });
  return {
    kind: 'browser',
    open: chooseFile,
    recent: () => Promise.resolve([]),
    openRecent: () =>
      Promise.resolve({ kind: 'refused', code: 'host.no-recent', detail: 'a browser keeps no places' }),
    save: (_file, suggestedName, bytes) => {
      download(suggestedName, 'application/json', bytes);
      return Promise.resolve({ kind: 'done', value: null });
    },
    saveAs: (suggestedName, bytes) => {
      download(suggestedName, 'application/json', bytes);
      return Promise.resolve({ kind: 'done', value: null });
    },
    exportBytes: (suggestedName, mimeType, bytes) => {
      download(suggestedName, mimeType, bytes);
      return Promise.resolve({ kind: 'done', value: null });
    },
    print: (pdf, title) => {
      printPdf(pdf, title);
      return Promise.resolve({ kind: 'done', value: null });
    },
    journalAppend: (entry) =>
      Promise.resolve(
        appendToJournal(entry)
          ? { kind: 'done', value: null }
          : { kind: 'refused', code: 'host.disk-full', detail: 'the store of the browser is full' },
      ),
    journalRead: () => Promise.resolve(readJournals()),
    journalClear: (planId) => Promise.resolve(clearJournal(planId)),
    recall: () => Promise.resolve(recallHere()),
    remember: (name, value) => Promise.resolve(rememberHere(name, value)),
    onAction: () => () => undefined,
    onOpenFile: () => () => undefined,
    setUnsaved: (unsaved) => {
      unsavedWork = unsaved;
    },
  };
}
