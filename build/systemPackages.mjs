import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

const has = (command) => spawnSync('sh', ['-c', `command -v ${command}`], { stdio: 'ignore' }).status === 0;

/** Where a browser that tests can drive may stand, most wanted first. */
export function findBrowser() {
  const named = process.env.RILLSHEET_BROWSER;
  const places = [
    named,
    '/usr/bin/chromium',
    '/usr/bin/chromium-browser',
    '/usr/bin/google-chrome',
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
  ];
  return places.find((path) => path !== undefined && path !== '' && existsSync(path)) ?? null;
}

const DEBIAN = {
  chromium: 'chromium',
  pdftoppm: 'poppler-utils',
  qpdf: 'qpdf',
  ogrinfo: 'gdal-bin',
  parallel: 'parallel',
  'xvfb-run': 'xvfb',
};

/** Installs what the tests use beside npm packages, where that is allowed (Debian, root); else says what to install. */
export function ensureSystemPackages() {
  const missing = Object.entries(DEBIAN).filter(([command]) =>
    command === 'chromium' ? findBrowser() === null : !has(command),
  );
  if (missing.length === 0) return;
  const packages = missing.map(([, name]) => name);
  if (process.platform === 'linux' && has('apt-get') && process.getuid?.() === 0) {
    console.error(`Installing ${packages.join(', ')} (once)...`);
    const options = {
      stdio: ['ignore', 'ignore', 2],
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    };
    spawnSync('apt-get', ['update', '-q'], options);
    spawnSync('apt-get', ['install', '-y', '-q', '--no-install-recommends', ...packages], options);
  }
  const still = missing.filter(([command]) =>
    command === 'chromium' ? findBrowser() === null : !has(command),
  );
  if (still.length > 0)
    console.error(
      `Not here: ${still.map(([, name]) => name).join(', ')}. Tests that need them are listed as skipped; install them to run those too.`,
    );
}
