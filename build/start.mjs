import { spawn } from 'node:child_process';
import { existsSync, mkdirSync } from 'node:fs';
import { homedir } from 'node:os';
import { basename, join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { ensurePackages, root } from './install.mjs';

const IDLE_STOP_MS = Number(process.env.RILLSHEET_IDLE_STOP_MS ?? 60_000);
const EARLY_DEATH_MS = 4000;

const usage = `Usage: npm start -- [FILE] [--no-open] [--port N] [--browser] [--fetch-again]
  FILE           a plan or a GeoJSON file to open
  --no-open      serve only; open no window
  --port N       serve on this port instead of any free one
  --browser      use the system browser even where the desktop runtime is here
  --fetch-again  try once more to fetch the desktop runtime`;

function readArguments() {
  try {
    const { values, positionals } = parseArgs({
      allowPositionals: true,
      options: {
        'no-open': { type: 'boolean' },
        port: { type: 'string' },
        browser: { type: 'boolean' },
        'fetch-again': { type: 'boolean' },
        help: { type: 'boolean' },
      },
    });
    if (values.help) {
      console.log(usage);
      process.exit(0);
    }
    const port = values.port === undefined ? 0 : Number(values.port);
    if (!Number.isInteger(port) || port < 0 || port > 65_535)
      throw new Error(`--port takes a whole number from 0 to 65535, not "${values.port}".`);
    if (positionals.length > 1)
      throw new Error(`One file can be opened at a start; ${positionals.length} were named.`);
    const file =
      positionals[0] === undefined ? null : resolve(process.env.INIT_CWD ?? process.cwd(), positionals[0]);
    if (file !== null && !existsSync(file))
      throw new Error(`There is no file "${file}". Check the name and the folder.`);
    return {
      file,
      port,
      wantsWindow: !values['no-open'],
      wantsBrowser: values.browser ?? false,
      again: values['fetch-again'] ?? false,
    };
  } catch (error) {
    console.error(`${error.message}\n${usage}`);
    process.exit(2);
  }
}

const hasDisplay = () =>
  process.platform === 'win32' ||
  process.platform === 'darwin' ||
  Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY);

function openInBrowser(url) {
  const [command, args] =
    process.platform === 'darwin'
      ? ['open', [url]]
      : process.platform === 'win32'
        ? ['rundll32', ['url.dll,FileProtocolHandler', url]]
        : ['xdg-open', [url]];
  const child = spawn(command, args, { stdio: 'ignore', detached: true });
  child.on('error', () =>
    console.log('No browser could be opened from here: open the address above yourself.'),
  );
  child.unref();
}

/** Where the program keeps its own files: recent list and recovery journal. */
function dataFolder() {
  if (process.platform === 'win32') return join(process.env.APPDATA ?? homedir(), 'Rillsheet');
  if (process.platform === 'darwin') return join(homedir(), 'Library/Application Support/Rillsheet');
  return join(process.env.XDG_DATA_HOME ?? join(homedir(), '.local/share'), 'rillsheet');
}

async function serve({ file, port, wantsWindow }) {
  const { createFileHost, startLoopbackServer } = await import('../dist/host/node.js');
  const plansFolder = join(homedir(), 'Rillsheet');
  const host = createFileHost({
    dataFolder: dataFolder(),
    now: () => new Date().toISOString(),
    chooser: {
      // A browser chooses files by itself; a new plan goes to the plans folder under a name that is free.
      openPath: async () => null,
      savePath: async (name) => {
        mkdirSync(plansFolder, { recursive: true });
        const dot = name.lastIndexOf('.') > 0 ? name.lastIndexOf('.') : name.length;
        for (let n = 1; ; n += 1) {
          const path = join(plansFolder, n === 1 ? name : `${name.slice(0, dot)} ${n}${name.slice(dot)}`);
          if (!existsSync(path)) return path;
        }
      },
    },
  });
  let server;
  const stop = async (code) => {
    await server?.close();
    await host.close();
    process.exit(code);
  };
  try {
    server = await startLoopbackServer({
      bundleFolder: join(root, 'dist/app'),
      host,
      port,
      openFirst: file,
      idleMs: IDLE_STOP_MS,
      onIdle: () => {
        console.log('The last window was closed; stopping.');
        void stop(0);
      },
      onAddress: (url) => console.log(`For another window:\n  ${url}`),
    });
  } catch (error) {
    if (error.code === 'EADDRINUSE')
      console.error(
        `Port ${port} is in use by another program. Choose another with --port N, or leave it out for any free one.`,
      );
    else console.error(`The app could not be served: ${error.message}`);
    process.exit(1);
  }
  console.log(
    `Rillsheet is served to this computer only. Plans you save go to ${plansFolder}.\n  ${server.address()}\nPress Ctrl+C to stop.`,
  );
  for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => void stop(0));
  if (!wantsWindow) return;
  if (hasDisplay()) openInBrowser(server.address());
  else console.log('There is no display here: open the address above in a browser on this computer.');
}

function startDesktop(binary, options) {
  const began = Date.now();
  const args = [join(root, 'dist/electron/main.js'), ...(options.file === null ? [] : [options.file])];
  // The runtime's own sandbox cannot start for root; running as root is for trial machines only.
  if (process.platform === 'linux' && process.getuid?.() === 0) args.push('--no-sandbox');
  const child = spawn(binary, args, { stdio: 'inherit' });
  let isServing = false;
  const fallBack = (why) => {
    if (isServing) return;
    isServing = true;
    console.log(`The desktop window did not start (${why}); the same app opens in the browser instead.`);
    void serve(options);
  };
  child.on('error', (error) => fallBack(error.message));
  child.on('exit', (code, signal) => {
    if ((code !== 0 || signal !== null) && Date.now() - began < EARLY_DEATH_MS)
      fallBack(signal ?? `code ${code}`);
    else if (!isServing) process.exit(code ?? 0);
  });
}

const options = readArguments();
ensurePackages();
const { ensureBuilt } = await import('./build.mjs');
await ensureBuilt();
const { fetchRuntime, findRuntime } = await import('./desktopRuntime.mjs');
const mayUseWindow = options.wantsWindow && !options.wantsBrowser && hasDisplay() && options.port === 0;
const binary = mayUseWindow ? (findRuntime() ?? fetchRuntime({ again: options.again })) : null;
if (binary !== null) {
  console.log(`Opening ${options.file === null ? 'Rillsheet' : basename(options.file)}.`);
  startDesktop(binary, options);
} else {
  if (mayUseWindow)
    console.log(
      'The desktop runtime is not here and could not be fetched; the same app opens in the system browser.',
    );
  await serve(options);
}
