import {
  type Answer,
  type FileToken,
  type Host,
  type OpenedFile,
  packFrame,
  type RecentFile,
  type RecoveredPlan,
  unpackFrame,
} from '../contract';
import { browserHost } from './browserHost';

const offline = {
  kind: 'refused',
  code: 'host.not-answering',
  detail: 'the program that serves this page has stopped',
} as const;

/** Asks the loopback server one thing. Null when it does not answer. */
async function ask(
  name: string,
  args: readonly unknown[],
  bytes?: Uint8Array,
): Promise<{ head: unknown; bytes: Uint8Array } | null> {
  try {
    const response = await fetch(`/api/${name}`, { method: 'POST', body: packFrame(args, bytes) });
    return response.ok ? unpackFrame(new Uint8Array(await response.arrayBuffer())) : null;
  } catch {
    return null;
  }
}

function openedFrom(frame: { head: unknown; bytes: Uint8Array } | null): Answer<OpenedFile> {
  if (frame === null) return offline;
  const answer = frame.head as Answer<OpenedFile>;
  return answer.kind === 'done' ? { kind: 'done', value: { ...answer.value, bytes: frame.bytes } } : answer;
}

const savedFrom = (frame: { head: unknown } | null): Answer<FileToken | null> =>
  frame === null ? offline : (frame.head as Answer<FileToken | null>);

/** True where this page came from the loopback server, which then keeps files and journal. */
export const isServed = (): boolean => location.protocol === 'http:' && location.hostname === '127.0.0.1';

/**
 * The contract kept together by a browser page and the loopback server: files are chosen in the browser, saved by the server
 * into the plans folder, and journaled on disk.
 */
export function servedHost(): Host {
  const browser = browserHost();
  // An open stream tells the server that a window is there; it closes by itself when the window goes.
  const presence = new EventSource('/api/presence');
  addEventListener('pagehide', () => presence.close());
  return {
    ...browser,
    recent: async () => ((await ask('recent', []))?.head as readonly RecentFile[] | undefined) ?? [],
    openRecent: async (file) => openedFrom(await ask('openRecent', [file.token])),
    save: async (file, suggestedName, bytes) =>
      savedFrom(await ask('save', [file?.token ?? null, suggestedName], bytes)),
    saveAs: async (suggestedName, bytes) => savedFrom(await ask('saveAs', [suggestedName], bytes)),
    journalAppend: async (entry) =>
      ((await ask('journalAppend', [entry.planId, entry.line, entry.name ?? '', entry.begins ?? false]))
        ?.head as Answer<null> | undefined) ?? offline,
    journalRead: async () =>
      ((await ask('journalRead', []))?.head as readonly RecoveredPlan[] | undefined) ?? [],
    journalClear: async (planId) => {
      await ask('journalClear', [planId]);
    },
    // The address of the next start is another one, and a browser forgets with the address: the server remembers instead.
    recall: async () =>
      ((await ask('recall', []))?.head as Readonly<Record<string, string>> | undefined) ?? {},
    remember: async (name, value) => {
      await ask('remember', [name, value]);
    },
    onOpenFile: (listener) => {
      let isListening = true;
      ask('openFirst', []).then((frame) => {
        if (!isListening || frame === null || frame.head === null) return;
        const opened = openedFrom(frame);
        if (opened.kind === 'done') listener(opened.value);
      });
      return () => {
        isListening = false;
      };
    },
  };
}
