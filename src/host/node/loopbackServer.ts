import { randomBytes, timingSafeEqual } from 'node:crypto';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { packFrame, unpackFrame } from '../contract';
import { readBundleFile } from './bundleFiles';
import { contentTypeOf, SAFE_HEADERS } from './contentTypes';
import type { FileHost } from './fileHost';

export interface LoopbackOptions {
  readonly bundleFolder: string;
  readonly host: FileHost;
  /** 0 or absent: any free port. */
  readonly port?: number;
  /** A plan to open in the first window. */
  readonly openFirst?: string | null;
  /** How long after the last window went the server stops. */
  readonly idleMs: number;
  readonly onIdle: () => void;
  /** Told the address for one more window each time one was used up. */
  readonly onAddress?: (url: string) => void;
}

export interface LoopbackServer {
  readonly port: number;
  /** Address with the token that opens one window; used up by its first visit. */
  readonly address: () => string;
  readonly close: () => Promise<void>;
}

const MAX_BODY_BYTES = 96_000_000;
const isSame = (a: string, b: string): boolean =>
  a.length === b.length && timingSafeEqual(Buffer.from(a), Buffer.from(b));
const newSecret = (): string => randomBytes(32).toString('hex');

class TooLarge extends Error {}

async function readBody(request: IncomingMessage): Promise<Uint8Array> {
  const parts: Buffer[] = [];
  let length = 0;
  for await (const part of request) {
    length += (part as Buffer).length;
    if (length > MAX_BODY_BYTES) throw new TooLarge();
    parts.push(part as Buffer);
  }
  return new Uint8Array(Buffer.concat(parts));
}

const reply = (
  response: ServerResponse,
  status: number,
  body: string | Uint8Array = '',
  headers: Record<string, string> = {},
): void => {
  response
    .writeHead(status, { 'content-type': 'text/plain; charset=utf-8', ...SAFE_HEADERS, ...headers })
    .end(body);
};

type Call = (
  args: readonly unknown[],
  bytes: Uint8Array,
  host: FileHost,
) => Promise<{ readonly value: unknown; readonly bytes?: Uint8Array }>;

const text = (value: unknown): string => (typeof value === 'string' ? value.slice(0, 1000) : '');
const longText = (value: unknown): string => (typeof value === 'string' ? value : '');

/** What the page may ask of this host. A chosen file's bytes ride behind the head; nothing else carries any. */
const CALLS: Readonly<Record<string, Call>> = {
  recent: async (_args, _bytes, host) => ({ value: await host.recent() }),
  openRecent: async ([token], _bytes, host) => {
    const answer = await host.openRecent(token);
    if (answer.kind !== 'done') return { value: answer };
    return { value: { kind: 'done', value: { ...answer.value, bytes: null } }, bytes: answer.value.bytes };
  },
  save: async ([token, name], bytes, host) => ({ value: await host.save(token ?? null, text(name), bytes) }),
  saveAs: async ([name], bytes, host) => ({ value: await host.saveAs(text(name), bytes) }),
  journalAppend: async ([planId, line, name, begins], _bytes, host) => ({
    value: await host.journalAppend({
      planId: text(planId),
      line: longText(line),
      name: text(name),
      begins: begins === true,
    }),
  }),
  journalRead: async (_args, _bytes, host) => ({ value: await host.journalRead() }),
  recall: async (_args, _bytes, host) => ({ value: await host.recall() }),
  remember: async ([name, value], _bytes, host) => ({
    value: await host.remember(text(name), typeof value === 'string' ? value : null),
  }),
  journalClear: async ([planId], _bytes, host) => ({ value: await host.journalClear(text(planId)) }),
};

/**
 * Serves the built app to this computer alone: bound to 127.0.0.1, one-time token exchanged for a cookie that scripts cannot read,
 * Host and Origin checked on every request, sizes bounded, no folder listed. Stops itself some time after the last window went.
 *
 * Fails: rejects with the system's error when the wanted port is taken.
 */
export async function startLoopbackServer(options: LoopbackOptions): Promise<LoopbackServer> {
  const session = newSecret();
  let ticket = newSecret();
  let port = 0;
  let firstFile = options.openFirst ?? null;
  let windows = 0;
  let idleTimer: NodeJS.Timeout | null = null;
  const addressNow = (): string => `http://127.0.0.1:${port}/enter?ticket=${ticket}`;
  const hasSession = (request: IncomingMessage): boolean => {
    const cookie =
      new RegExp(`(?:^|; )rillsheet${port}=([0-9a-f]{64})(?:;|$)`).exec(request.headers.cookie ?? '')?.[1] ??
      '';
    return isSame(cookie, session);
  };

  const enter = (request: IncomingMessage, response: ServerResponse, given: string): void => {
    const isTicket = isSame(given, ticket);
    if (!isTicket && !hasSession(request)) {
      reply(
        response,
        403,
        'This address was used already. The address for another window is printed in the terminal.',
      );
      return;
    }
    const cookie = `rillsheet${port}=${session}; HttpOnly; SameSite=Strict; Path=/`;
    reply(response, 303, '', { location: '/', ...(isTicket ? { 'set-cookie': cookie } : {}) });
    if (isTicket) {
      ticket = newSecret();
      options.onAddress?.(addressNow());
    }
  };
  /** An open stream is an open window; the browser closes it when the window goes. */
  const keepPresence = (response: ServerResponse): void => {
    windows += 1;
    if (idleTimer !== null) clearTimeout(idleTimer);
    idleTimer = null;
    response.writeHead(200, { ...SAFE_HEADERS, 'content-type': 'text/event-stream' });
    response.write('retry: 2000\n\n');
    response.on('close', () => {
      windows -= 1;
      if (windows === 0) idleTimer = setTimeout(options.onIdle, options.idleMs);
    });
  };
  const answerCall = async (
    name: string,
    request: IncomingMessage,
    response: ServerResponse,
  ): Promise<void> => {
    const call = Object.hasOwn(CALLS, name) ? CALLS[name] : undefined;
    if (name !== 'openFirst' && call === undefined) return reply(response, 404);
    const frame = unpackFrame(await readBody(request));
    if (frame === null || !Array.isArray(frame.head)) return reply(response, 400, 'not a message');
    if (name === 'openFirst') {
      const path = firstFile;
      firstFile = null;
      const answer = path === null ? null : await options.host.openPath(path);
      const isOpened = answer?.kind === 'done';
      const value = isOpened ? { kind: 'done', value: { ...answer.value, bytes: null } } : answer;
      return reply(response, 200, packFrame(value, isOpened ? answer.value.bytes : undefined), {
        'content-type': 'application/octet-stream',
      });
    }
    const result = await (call as Call)(frame.head, frame.bytes, options.host);
    reply(response, 200, packFrame(result.value ?? null, result.bytes), {
      'content-type': 'application/octet-stream',
    });
  };
  const answer = async (request: IncomingMessage, response: ServerResponse): Promise<void> => {
    const origin = `http://127.0.0.1:${port}`;
    if (request.headers.host !== `127.0.0.1:${port}`) return reply(response, 403, 'wrong host');
    const url = new URL(request.url ?? '/', origin);
    if (url.pathname === '/enter' && request.method === 'GET')
      return enter(request, response, url.searchParams.get('ticket') ?? '');
    if (!hasSession(request)) return reply(response, 403, 'Open the address printed in the terminal.');
    if (url.pathname === '/api/presence' && request.method === 'GET') return keepPresence(response);
    if (url.pathname.startsWith('/api/')) {
      if (request.method !== 'POST' || request.headers.origin !== origin)
        return reply(response, 403, 'wrong origin');
      return answerCall(url.pathname.slice('/api/'.length), request, response);
    }
    if (request.method !== 'GET' && request.method !== 'HEAD') return reply(response, 405);
    const file = await readBundleFile(options.bundleFolder, url.pathname);
    if (file === null) return reply(response, 404, 'not here');
    reply(response, 200, file.bytes, { 'content-type': contentTypeOf(file.path) });
  };

  const server = createServer((request, response) => {
    answer(request, response).catch((error: unknown) => {
      if (!response.headersSent)
        reply(
          response,
          error instanceof TooLarge ? 413 : 500,
          error instanceof TooLarge ? 'too large' : 'failed',
        );
      request.destroy();
    });
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject).listen(options.port ?? 0, '127.0.0.1', () => resolve());
  });
  port = (server.address() as AddressInfo).port;
  return {
    port,
    address: addressNow,
    close: () =>
      new Promise((resolve) => {
        if (idleTimer !== null) clearTimeout(idleTimer);
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}
