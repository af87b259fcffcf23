import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { Agent, request } from 'node:http';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { packFrame, unpackFrame } from '../../src/host/contract';
import { createFileHost, type FileHost, type LoopbackServer, startLoopbackServer } from '../../src/host/node';
import { amount, report } from './amounts';
import { seeded } from './mutate';

const SECRET = 'what nobody may read';
let folder: string;
let host: FileHost;
let server: LoopbackServer;
let cookie: string;
const agent = new Agent({ keepAlive: true, maxSockets: 4 });

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-attack-'));
  for (const name of ['bundle', 'plans', 'bundle/assets']) mkdirSync(join(folder, name));
  writeFileSync(join(folder, 'bundle', 'index.html'), '<title>app</title>');
  writeFileSync(join(folder, 'bundle', 'assets', 'a.js'), '1');
  writeFileSync(join(folder, 'secret.txt'), SECRET);
  mkdirSync(join(folder, 'bundle-secret'));
  writeFileSync(join(folder, 'bundle-secret', 'secret.txt'), SECRET);
  symlinkSync(join(folder, 'secret.txt'), join(folder, 'bundle', 'out.txt'));
  let saved = 0;
  host = createFileHost({
    dataFolder: join(folder, 'data'),
    now: () => '2026-01-01T00:00:00Z',
    chooser: {
      openPath: async () => null,
      savePath: async (name) => {
        saved += 1;
        return join(folder, 'plans', `${saved} ${name}`);
      },
    },
  });
  server = await startLoopbackServer({
    bundleFolder: join(folder, 'bundle'),
    host,
    idleMs: 600_000,
    onIdle: () => undefined,
  });
  const entered = await send('GET', server.address().replace(/^http:\/\/[^/]+/, ''), {});
  cookie = String(entered.headers['set-cookie']).split(';')[0] ?? '';
});
afterAll(async () => {
  agent.destroy();
  await server.close();
  await host.close();
  rmSync(folder, { recursive: true, force: true });
});

interface Reply {
  readonly status: number;
  readonly headers: Readonly<Record<string, unknown>>;
  readonly body: Buffer;
}
function send(
  method: string,
  path: string,
  headers: Record<string, string>,
  body?: Uint8Array,
  line: Agent | false = agent,
): Promise<Reply> {
  return new Promise((resolve, reject) => {
    const asked = request(
      { agent: line, host: '127.0.0.1', port: server.port, path, method, headers, timeout: 20_000 },
      (response) => {
        const parts: Buffer[] = [];
        response.on('data', (part: Buffer) => parts.push(part));
        response.on('end', () =>
          resolve({
            status: response.statusCode ?? 0,
            headers: response.headers,
            body: Buffer.concat(parts),
          }),
        );
      },
    );
    asked.on('error', reject).on('timeout', () => asked.destroy(new Error('no answer')));
    asked.end(body);
  });
}
const own = () => ({ cookie, origin: `http://127.0.0.1:${server.port}` });

/** Bytes as they are on the wire: what no client library would send. */
function sendRaw(bytes: string): Promise<string> {
  return new Promise((resolve) => {
    const socket = connect(server.port, '127.0.0.1', () => socket.write(bytes, 'latin1'));
    let said = '';
    socket.on('data', (part) => {
      said += part.toString('latin1');
    });
    socket.on('error', () => resolve(said));
    socket.on('close', () => resolve(said));
    setTimeout(() => socket.destroy(), 300);
  });
}

describe('the loopback server under attack', () => {
  it('gives nothing from outside of the bundle, however the way out is written', async () => {
    const ups = [
      '..',
      '%2e%2e',
      '%2E.',
      '.%2e',
      '%252e%252e',
      '..%00',
      '%c0%ae%c0%ae',
      '....',
      '. .',
      '\\..',
    ];
    const slashes = ['/', '%2f', '%5c', '\\', '//', '%252f', '/./', '%2F%2F', ';/', '/%20/'];
    const ways = ups.flatMap((up) => slashes.map((slash) => `/${up}${slash}secret.txt`));
    ways.push('/assets/../../secret.txt', '/../bundle-secret/secret.txt', '/..%2fbundle-secret%2fsecret.txt');
    ways.push(
      `/${encodeURIComponent(join(folder, 'secret.txt'))}`,
      `/${join(folder, 'secret.txt')}`,
      '/out.txt',
    );
    ways.push(
      '/file:///etc/passwd',
      '/C:%5cWindows%5cwin.ini',
      '/CON',
      '/secret.txt::$DATA',
      '/assets',
      '/assets/',
    );
    let denied = 0;
    for (const way of ways) {
      const said = await sendRaw(
        `GET ${way} HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\nCookie: ${cookie}\r\nConnection: close\r\n\r\n`,
      );
      expect(said, way).not.toContain(SECRET);
      expect(said, way).not.toMatch(/^HTTP\/1\.1 2/);
      denied += 1;
    }
    report('escapes from the bundle', { tried: ways.length, denied });
    expect(denied).toBeGreaterThanOrEqual(100);
  });

  it('does nothing for another host name, another origin, no cookie or a guessed one', async () => {
    const save = packFrame(['x.json'], new TextEncoder().encode('theirs'));
    const before = readdirSync(join(folder, 'plans'));
    const { origin } = own();
    const strangers: Record<string, string>[] = [
      { ...own(), host: `evil.example:${server.port}` },
      { ...own(), host: `localhost:${server.port}` },
      { ...own(), host: `127.0.0.1.evil.example:${server.port}` },
      { ...own(), host: '127.0.0.1' },
      { ...own(), origin: 'http://evil.example' },
      { ...own(), origin: 'null' },
      { ...own(), origin: `${origin}.evil.example` },
      { cookie },
      { origin },
      { origin, cookie: `${cookie.slice(0, -1)}0`.replace(cookie, `${cookie.slice(0, -1)}1`) },
      { origin, cookie: `rillsheet${server.port}=${'0'.repeat(64)}` },
      { origin, cookie: `x${cookie}` },
      { origin, cookie: 'rillsheet=; '.repeat(500) },
    ];
    for (const headers of strangers) {
      expect((await send('POST', '/api/saveAs', headers, save, false)).status, JSON.stringify(headers)).toBe(
        403,
      );
    }
    for (const method of ['GET', 'PUT', 'DELETE', 'OPTIONS', 'PATCH'])
      expect([403, 405]).toContain((await send(method, '/api/saveAs', own(), save, false)).status);
    expect(readdirSync(join(folder, 'plans'))).toEqual(before);
  });

  it('answers any message without harm: no crash, no hang, nothing read or written outside', {
    timeout: 3_600_000,
  }, async () => {
    const random = seeded(12);
    const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
    const channels = [
      'recent',
      'openRecent',
      'save',
      'saveAs',
      'journalAppend',
      'journalRead',
      'journalClear',
      'recall',
      'remember',
      'openFirst',
    ];
    const words: readonly unknown[] = [
      '',
      '../../secret.txt',
      '/etc/passwd',
      '__proto__',
      'constructor',
      'a\0b',
      'x'.repeat(5000),
      '\ud800',
      '..',
      'CON',
      null,
      0,
      -1,
      1e308,
      true,
      [],
      {},
      [[['deep']]],
      { toString: 1 },
      { length: 9 },
    ];
    const each = amount(500, 10_000);
    const counts = { channels: channels.length, messages: 0, answered: 0, refused: 0 };
    for (const channel of channels) {
      for (let n = 0; n < each; n++) {
        let body: Uint8Array = packFrame(
          Array.from({ length: Math.floor(random() * 5) }, () => pick(words)),
          new Uint8Array(Math.floor(random() * 50)),
        );
        if (random() < 0.3) body = body.map((byte) => (random() < 0.1 ? Math.floor(random() * 256) : byte));
        if (random() < 0.1) body = body.slice(0, Math.floor(random() * body.length));
        const reply = await send('POST', `/api/${channel}`, own(), body);
        expect([200, 400], `${channel} ${n}`).toContain(reply.status);
        expect(reply.body.includes(SECRET)).toBe(false);
        if (reply.status === 200) expect(unpackFrame(new Uint8Array(reply.body))).not.toBeNull();
        counts.messages += 1;
        counts[reply.status === 200 ? 'answered' : 'refused'] += 1;
      }
    }
    report('message fuzz on the loopback server', counts);
    expect(readFileSync(join(folder, 'secret.txt'), 'utf8')).toBe(SECRET);
    expect(readdirSync(folder).sort()).toEqual(['bundle', 'bundle-secret', 'data', 'plans', 'secret.txt']);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });

  it('drops what is no request at all, and goes on serving', async () => {
    const head = `POST /api/saveAs HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\nCookie: ${cookie}\r\nOrigin: http://127.0.0.1:${server.port}\r\n`;
    for (const bytes of [
      '\x16\x03\x01\x02\x00',
      'GET / HTTP/9.9\r\n\r\n',
      `GET / HTTP/1.1\r\n${'X: y\r\n'.repeat(5000)}\r\n`,
      `GET /${'a'.repeat(100_000)} HTTP/1.1\r\n\r\n`,
      `${head}Content-Length: 99999999999\r\n\r\n`,
      `${head}Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\nGET /secret.txt HTTP/1.1\r\n\r\n`,
      `${head}Transfer-Encoding: chunked\r\n\r\nZZ\r\n`,
      'GET http://evil.example/ HTTP/1.1\r\nHost: evil.example\r\n\r\n',
      'CONNECT evil.example:80 HTTP/1.1\r\nHost: evil.example\r\n\r\n',
    ]) {
      expect(await sendRaw(bytes)).not.toMatch(/^HTTP\/1\.1 2/);
    }
    expect((await send('GET', '/', own())).status).toBe(200);
  });
});
