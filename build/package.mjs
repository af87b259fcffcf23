import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { ensurePackages, root } from './install.mjs';

/** Fetched when installers are made and never otherwise: it is ten times the size of the program. */
const PACKAGER = 'electron-builder@26.17.0';
const ICON_PX = 1024;

ensurePackages();
const { fetchRuntime, findRuntime } = await import('./desktopRuntime.mjs');
if ((findRuntime() ?? fetchRuntime({ again: true })) === null) {
  console.error(
    'No installers were made: the desktop runtime is not here and could not be fetched. It comes from the network once, with Node 22.12 or newer; the app itself runs without it by npm start.',
  );
  process.exit(1);
}
const { ensureBuilt } = await import('./build.mjs');
await ensureBuilt();
const { Resvg } = await import('@resvg/resvg-js');
const resources = join(root, 'dist/packaging');
mkdirSync(resources, { recursive: true });
const icon = new Resvg(readFileSync(join(root, 'src/app/look/icon.svg'), 'utf8'), {
  fitTo: { mode: 'width', value: ICON_PX },
});
writeFileSync(join(resources, 'icon.png'), icon.render().asPng());

const npx = process.platform === 'win32' ? 'npx.cmd' : 'npx';
const { status, error } = spawnSync(
  npx,
  ['--yes', PACKAGER, '--config', 'build/packaging.mjs', '--publish', 'never', ...process.argv.slice(2)],
  { cwd: root, stdio: 'inherit', shell: process.platform === 'win32' },
);
if (status !== 0) console.error(`No installers were made${error ? `: ${error.message}` : ''}.`);
else console.log('Installers: dist/installers');
process.exit(status ?? 1);
