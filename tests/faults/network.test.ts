import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { report } from './amounts';
import { buildChildren, start } from './child';

let folder: string;
let script: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-network-'));
  script = (await buildChildren(['session'])).session;
}, 120_000);
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
  rmSync(join(script, '..'), { recursive: true, force: true });
});

/** Writes down every name that is looked up and every address that is called, before it happens. */
const WATCH = `
import { appendFileSync } from 'node:fs';
import dns from 'node:dns';
import net from 'node:net';
import { syncBuiltinESMExports } from 'node:module';
const say = (what) => appendFileSync(process.env.WATCHED, what + '\\n');
const connect = net.Socket.prototype.connect;
net.Socket.prototype.connect = function (...args) {
  const first = Array.isArray(args[0]) ? args[0][0] : args[0];
  say('call ' + (typeof first === 'object' ? (first.host ?? first.path ?? '127.0.0.1') : String(args[1] ?? first)));
  return connect.apply(this, args);
};
for (const name of ['lookup', 'resolve', 'resolve4', 'resolve6']) {
  const own = dns[name];
  dns[name] = (host, ...rest) => { say('look-up ' + host); return own(host, ...rest); };
}
syncBuiltinESMExports();
`;

it('a session of work asks the network for nothing but this computer', { timeout: 120_000 }, async () => {
  const watched = join(folder, 'watched.txt');
  const hook = join(folder, 'watch.mjs');
  writeFileSync(watched, '');
  writeFileSync(hook, WATCH);
  process.env.WATCHED = watched;
  const { ended, said } = start(script, [folder], ['--import', pathToFileURL(hook).href]);
  expect(await ended).toBe(0);
  expect(said()).toContain('designed and saved');
  const asked = readFileSync(watched, 'utf8')
    .split('\n')
    .filter((line) => line !== '');
  const foreign = asked.filter((line) => !/ (127\.0\.0\.1|localhost|::1)$/.test(line));
  report('network asked for in a session of work', {
    loopback: asked.length - foreign.length,
    'anything else': foreign.length,
  });
  expect(foreign).toEqual([]);
  // The session calls its own server, so a watch that sees nothing is a watch that does not work.
  expect(asked.length).toBeGreaterThan(0);
});
