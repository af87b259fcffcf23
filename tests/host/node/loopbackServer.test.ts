import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { request as httpRequest } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { packFrame, unpackFrame } from '../../../src/host/contract';
import { createFileHost, type LoopbackServer, startLoopbackServer } from '../../../src/host/node';

let folder: string;
let server: LoopbackServer;
let idleStops = 0;
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-serve-'));
  writeFileSync(join(folder, 'index.html'), '<title>app</title>');
  writeFileSync(join(folder, 'secret.txt'), 'never served');
  const bundle = mkdtempSync(join(folder, 'bundle-'));
  writeFileSync(join(bundle, 'index.html'), '<title>app</title>');
  const host = createFileHost({
    dataFolder: join(folder, 'data'),
    now: () => '2026-01-01T00:00:00Z',
    chooser: { openPath: async () => null, savePath: async (name) => join(folder, name) },
  });
  idleStops = 0;
  server = await startLoopbackServer({
    bundleFolder: bundle,
    host,
    idleMs: 30,
    onIdle: () => (idleStops += 1),
  });
});
afterEach(async () => {
  await server.close();
  rmSync(folder, { recursive: true, force: true });
});

const origin = () => `http://127.0.0.1:${server.port}`;
const enter = async (): Promise<string> => {
  const response = await fetch(server.address(), { redirect: 'manual' });
  return (response.headers.get('set-cookie') ?? '').split(';')[0] ?? '';
};
const post = (name: string, cookie: string, body: Uint8Array, headers: Record<string, string> = {}) =>
  fetch(`${origin()}/api/${name}`, {
    method: 'POST',
    body: body.slice(),
    headers: { cookie, origin: origin(), ...headers },
  });

describe('the loopback server', () => {
  it('opens with its ticket once, by a cookie no script can read, and never with the same ticket again', async () => {
    const address = server.address();
    const first = await fetch(address, { redirect: 'manual' });
    expect(first.status).toBe(303);
    expect(first.headers.get('set-cookie')).toMatch(/HttpOnly; SameSite=Strict/);
    expect((await fetch(address, { redirect: 'manual' })).status).toBe(403);
    expect((await fetch(origin())).status).toBe(403);
    const page = await fetch(origin(), {
      headers: { cookie: (first.headers.get('set-cookie') ?? '').split(';')[0] ?? '' },
    });
    expect(await page.text()).toContain('<title>app</title>');
    expect(page.headers.get('content-security-policy')).toContain("default-src 'self'");
  });

  it('refuses a foreign host name, a foreign origin and a path that climbs out', async () => {
    const cookie = await enter();
    const status = await new Promise<number>((resolve) => {
      httpRequest(
        {
          host: '127.0.0.1',
          port: server.port,
          path: '/',
          headers: { host: `evil.example:${server.port}`, cookie },
        },
        (r) => resolve(r.statusCode ?? 0),
      ).end();
    });
    expect(status).toBe(403);
    expect((await post('recent', cookie, packFrame([]), { origin: 'http://evil.example' })).status).toBe(403);
    for (const path of [
      '/../secret.txt',
      '/..%2fsecret.txt',
      '/%2e%2e/secret.txt',
      '/..%5csecret.txt',
      '/%00',
      '/%zz',
      '/api',
      '/assets/',
    ]) {
      const raw = await new Promise<number>((resolve) => {
        httpRequest({ host: '127.0.0.1', port: server.port, path, headers: { cookie } }, (r) =>
          resolve(r.statusCode ?? 0),
        ).end();
      });
      expect(raw, path).toBe(404);
    }
  });

  it('saves a plan under a plain name and opens it again by its token alone', async () => {
    const cookie = await enter();
    const saved = unpackFrame(
      new Uint8Array(
        await (
          await post('saveAs', cookie, packFrame(['../../bed.json'], new TextEncoder().encode('{"a":1}')))
        ).arrayBuffer(),
      ),
    );
    expect(saved?.head).toMatchObject({ kind: 'done', value: { name: 'bed.json' } });
    const token = (saved as unknown as { head: { value: { token: string } } }).head.value.token;
    const opened = unpackFrame(
      new Uint8Array(await (await post('openRecent', cookie, packFrame([token]))).arrayBuffer()),
    );
    expect(new TextDecoder().decode(opened?.bytes)).toBe('{"a":1}');
    const foreign = unpackFrame(
      new Uint8Array(
        await (await post('openRecent', cookie, packFrame([join(folder, 'secret.txt')]))).arrayBuffer(),
      ),
    );
    expect(foreign?.head).toMatchObject({ kind: 'refused', code: 'host.unknown-file' });
  });

  it('a plan changed outside since it was opened is not overwritten', async () => {
    const cookie = await enter();
    const saved = unpackFrame(
      new Uint8Array(
        await (
          await post('saveAs', cookie, packFrame(['bed.json'], new TextEncoder().encode('mine')))
        ).arrayBuffer(),
      ),
    );
    const token = (saved as unknown as { head: { value: { token: string } } }).head.value.token;
    writeFileSync(join(folder, 'bed.json'), 'theirs');
    const again = unpackFrame(
      new Uint8Array(
        await (
          await post('save', cookie, packFrame([token, 'bed.json'], new TextEncoder().encode('mine 2')))
        ).arrayBuffer(),
      ),
    );
    expect(again?.head).toMatchObject({ kind: 'refused', code: 'host.changed-outside' });
  });

  it('garbage, unknown calls and prototype names are answered without harm', async () => {
    const cookie = await enter();
    expect((await post('recent', cookie, new Uint8Array([1, 2]))).status).toBe(400);
    expect((await post('recent', cookie, new Uint8Array([255, 255, 255, 255, 1]))).status).toBe(400);
    for (const name of ['constructor', '__proto__', 'exportBytes', 'openPath'])
      expect((await post(name, cookie, packFrame([]))).status).toBe(404);
  });

  it('stops some time after the last window went, and never before a first one came', async () => {
    await new Promise((resolve) => setTimeout(resolve, 80));
    expect(idleStops).toBe(0);
    const cookie = await enter();
    const leave = new AbortController();
    await fetch(`${origin()}/api/presence`, { headers: { cookie }, signal: leave.signal });
    await new Promise((resolve) => setTimeout(resolve, 80));
    expect(idleStops).toBe(0);
    leave.abort();
    await expect.poll(() => idleStops, { timeout: 2000 }).toBe(1);
  });

  it('a taken port is an error, not a second server', async () => {
    const host = createFileHost({
      dataFolder: folder,
      now: () => '',
      chooser: { openPath: async () => null, savePath: async () => null },
    });
    await expect(
      startLoopbackServer({
        bundleFolder: folder,
        host,
        idleMs: 1,
        onIdle: () => undefined,
        port: server.port,
      }),
    ).rejects.toMatchObject({ code: 'EADDRINUSE' });
  });
});
