type Listener = (...args: unknown[]) => void;

/**
 * Runs inside the browser, in the isolated world of the preload: gives the preload its two modules and nothing else.
 * The two worlds share the document and no objects, so values cross as structured clones in the detail of an event.
 * Self-contained: it travels to the browser as text.
 */
export function preloadWorld(
  post: (packed: string) => void,
  runPreload: (require: (name: string) => unknown) => void,
): void {
  const pack = (value: unknown): string =>
    JSON.stringify(value, (_key, item) =>
      item instanceof Uint8Array
        ? { $bytes: btoa(Array.from(item, (byte) => String.fromCharCode(byte)).join('')) }
        : item,
    );
  const unpack = (text: string) =>
    JSON.parse(text, (_key, item) =>
      item && typeof item === 'object' && typeof item.$bytes === 'string'
        ? Uint8Array.from(atob(item.$bytes), (letter) => letter.charCodeAt(0))
        : item,
    );
  const say = (type: string, detail: unknown) => document.dispatchEvent(new CustomEvent(type, { detail }));
  const hear = (type: string, listener: (detail: never) => void) =>
    document.addEventListener(type, (event) => listener((event as CustomEvent).detail as never));

  let calls = 0;
  const waiting = new Map<number, [(value: unknown) => void, (error: Error) => void]>();
  const listeners = new Map<string, Set<Listener>>();
  Object.assign(globalThis, {
    __reply(id: number, packed: string) {
      const answer = unpack(packed);
      const [resolve, reject] = waiting.get(id) ?? [];
      waiting.delete(id);
      if (answer.error === undefined) resolve?.(answer.value);
      else reject?.(new Error(answer.error));
    },
    __send(channel: string, packed: string) {
      for (const listener of listeners.get(channel) ?? []) listener({}, ...unpack(packed));
    },
  });
  const ipcRenderer = {
    invoke(channel: string, ...args: unknown[]) {
      const id = ++calls;
      post(pack({ id, channel, args: structuredClone(args) }));
      return new Promise((resolve, reject) => {
        waiting.set(id, [resolve, reject]);
      });
    },
    on(channel: string, listener: Listener) {
      listeners.set(channel, (listeners.get(channel) ?? new Set()).add(listener));
    },
    off(channel: string, listener: Listener) {
      listeners.get(channel)?.delete(listener);
    },
  };

  const functions = new Map<number, Listener>();
  const outward = (value: unknown): unknown => {
    if (typeof value === 'function') {
      functions.set(functions.size + 1, value as Listener);
      return { $function: functions.size };
    }
    if (Array.isArray(value)) return value.map(outward);
    if (value && typeof value === 'object' && Object.getPrototypeOf(value) === Object.prototype)
      return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, outward(item)]));
    return value;
  };
  const inward = (value: unknown): unknown => {
    if (!value || typeof value !== 'object' || !('$callback' in value)) return value;
    const id = value.$callback;
    return (...args: unknown[]) => say('shell-callback', { id, args });
  };
  hear('shell-call', (call: { id: number; functionId: number; args: unknown[] }) => {
    try {
      const given = functions.get(call.functionId)?.(...call.args.map(inward)) as unknown;
      if (!(given instanceof Promise)) {
        say('shell-given', { value: outward(given) });
        return;
      }
      say('shell-given', { isPromise: true });
      given.then(
        (value) => say('shell-settled', { id: call.id, value: outward(value) }),
        (error: Error) => say('shell-settled', { id: call.id, error: error.message }),
      );
    } catch (error) {
      say('shell-given', { error: (error as Error).message });
    }
  });
  const exposed: [string, unknown][] = [];
  hear('shell-ask', () => {
    for (const pair of exposed.splice(0)) say('shell-expose', pair);
  });
  const contextBridge = {
    exposeInMainWorld(key: string, value: unknown) {
      exposed.push([key, outward(value)]);
      say('shell-hello', null);
    },
  };
  runPreload((name) => {
    if (name === 'electron') return { contextBridge, ipcRenderer };
    throw new Error(`a sandboxed preload has no module ${name}`);
  });
}
