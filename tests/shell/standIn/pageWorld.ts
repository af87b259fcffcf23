type Callback = (...args: unknown[]) => void;
interface Given {
  readonly isPromise?: boolean;
  readonly value?: unknown;
  readonly error?: string;
}

/**
 * Runs inside the browser, in the page's own world: the far end of the bridge. It sees clones and numbered functions of what the
 * preload exposed, never its objects. Self-contained: it travels to the browser as text.
 */
export function pageWorld(): void {
  const say = (type: string, detail: unknown) => document.dispatchEvent(new CustomEvent(type, { detail }));
  const hear = (type: string, listener: (detail: never) => void) =>
    document.addEventListener(type, (event) => listener((event as CustomEvent).detail as never));
  let calls = 0;
  const waiting = new Map<number, [(value: unknown) => void, (error: Error) => void]>();
  const callbacks = new Map<number, Callback>();
  let given: Given = {};

  const outward = (value: unknown): unknown => {
    if (typeof value !== 'function') return structuredClone(value);
    callbacks.set(callbacks.size + 1, value as Callback);
    return { $callback: callbacks.size };
  };
  const bridged =
    (functionId: number) =>
    (...args: unknown[]): unknown => {
      const id = ++calls;
      const settled = new Promise((resolve, reject) => {
        waiting.set(id, [resolve, reject]);
      });
      given = {};
      say('shell-call', { id, functionId, args: args.map(outward) });
      if (given.isPromise) return settled;
      waiting.delete(id);
      if (given.error !== undefined) throw new Error(given.error);
      return inward(given.value);
    };
  const inward = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(inward);
    if (!value || typeof value !== 'object') return value;
    if ('$function' in value) return bridged(value.$function as number);
    if (Object.getPrototypeOf(value) !== Object.prototype) return value;
    return Object.freeze(Object.fromEntries(Object.entries(value).map(([key, item]) => [key, inward(item)])));
  };
  hear('shell-given', (detail: Given) => {
    given = detail;
  });
  hear('shell-settled', ({ id, value, error }: { id: number; value?: unknown; error?: string }) => {
    const [resolve, reject] = waiting.get(id) ?? [];
    waiting.delete(id);
    if (error === undefined) resolve?.(inward(value));
    else reject?.(new Error(error));
  });
  hear('shell-callback', ({ id, args }: { id: number; args: unknown[] }) => callbacks.get(id)?.(...args));
  hear('shell-expose', ([key, value]: [string, unknown]) => {
    if (key in globalThis) throw new Error(`${key} is there already`);
    Object.defineProperty(globalThis, key, { value: inward(value), enumerable: true });
  });
  hear('shell-hello', () => say('shell-ask', null));
  say('shell-ask', null);
}
