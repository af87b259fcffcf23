import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { typicalCatalog } from '../../../src/core/catalog';
import { designPlan } from '../../../src/core/design';
import { designJsonText, writeDxf, writeGeoJson } from '../../../src/core/exchange';
import { perform, startHistory, writePlan } from '../../../src/core/plan';
import { packFrame } from '../../../src/host/contract';
import { createFileHost, startLoopbackServer } from '../../../src/host/node';
import { editOf, startingPlan } from './drawing';

/** A session of work: the server is entered, a plan drawn and journaled, saved, opened again, designed and exported. */
const folder = process.argv[2] ?? '';
mkdirSync(join(folder, 'bundle'));
writeFileSync(join(folder, 'bundle', 'index.html'), '<title>app</title>');
const host = createFileHost({
  dataFolder: join(folder, 'data'),
  now: () => '2026-01-01T00:00:00Z',
  chooser: { openPath: async () => null, savePath: async (name) => join(folder, name) },
});
const server = await startLoopbackServer({
  bundleFolder: join(folder, 'bundle'),
  host,
  idleMs: 60_000,
  onIdle: () => undefined,
});
const entered = await fetch(server.address(), { redirect: 'manual' });
const headers = {
  cookie: (entered.headers.get('set-cookie') ?? '').split(';')[0] ?? '',
  origin: `http://127.0.0.1:${server.port}`,
};
const ask = (name: string, args: readonly unknown[], bytes?: Uint8Array) =>
  fetch(`http://127.0.0.1:${server.port}/api/${name}`, {
    method: 'POST',
    headers,
    body: packFrame(args, bytes),
  });
let history = startHistory(startingPlan());
for (let n = 1; n <= 5; n++) {
  const done = perform(history, editOf(n));
  if (done.ok) history = done.value.history;
  await ask('journalAppend', ['garden', '{}', 'Garden', n === 1]);
}
await ask('saveAs', ['garden.json'], new TextEncoder().encode(writePlan(history.plan)));
await ask('recent', []);
await ask('journalClear', ['garden']);
const design = designPlan(startingPlan(), typicalCatalog, { quality: 'preview' });
const length = [designJsonText(design), writeDxf(design), writeGeoJson(design)].join('').length;
await server.close();
await host.close();
console.log(`designed and saved, ${length} characters`);
