import { type ChildProcess, spawn } from 'node:child_process';
import {
  chmodSync,
  chownSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { delimiter, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { ensureBuilt } from '../../build/build.mjs';
import { findBrowser } from '../../build/systemPackages.mjs';

const START = fileURLToPath(new URL('../../build/start.mjs', import.meta.url));
const DEMONSTRATION = fileURLToPath(new URL('../../assets/demonstration.rillsheet.json', import.meta.url));

let folder: string;
let started: ChildProcess[] = [];
beforeAll(ensureBuilt);
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-start-'));
});
afterEach(() => {
  for (const child of started) child.kill('SIGKILL');
  started = [];
  rmSync(folder, { recursive: true, force: true });
});

/** A program that writes down what it was started with and then does as told. */
function fakeProgram(name: string, then: string): { readonly path: string; readonly calls: () => string } {
  const path = join(folder, name);
  const record = join(folder, `${name}.calls`);
  writeFileSync(path, `#!/bin/sh\necho "$@" >> "${record}"\n${then}\n`);
  chmodSync(path, 0o755);
  return { path, calls: () => (existsSync(record) ? readFileSync(record, 'utf8').trim() : '') };
}

/** Somebody without rights, by the number that Linux and the BSDs keep for it. */
const NOBODY = 65_534;

/** True where anyone on this machine may read the project: a clone in a closed home can be started by its owner alone. */
function isOpenToAll(path: string): boolean {
  const isOpen = (statSync(path).mode & 0o005) === 0o005;
  return isOpen && (dirname(path) === path || isOpenToAll(dirname(path)));
}

/** Whom a start without rights is made as: the tester, or nobody where the tester is root. */
function plainUser(): { readonly uid: number; readonly gid: number } | Record<string, never> {
  if (process.getuid?.() !== 0) return {};
  if (isOpenToAll(dirname(START))) return { uid: NOBODY, gid: NOBODY };
  console.log(
    'The project lies in a folder that only root may read: the start without rights is made as root.',
  );
  return {};
}

/** Starts the program as a person would, with everything it prints. The runtime is absent unless one is named. */
function start(
  args: readonly string[],
  env: Readonly<Record<string, string>> = {},
  user: { readonly uid?: number; readonly gid?: number } = {},
) {
  const { DISPLAY: _display, WAYLAND_DISPLAY: _wayland, ...plain } = process.env;
  const child = spawn(process.execPath, [START, ...args], {
    env: {
      ...plain,
      HOME: folder,
      XDG_DATA_HOME: join(folder, 'data'),
      RILLSHEET_RUNTIME: join(folder, 'absent'),
      ...env,
    },
    ...user,
  });
  started.push(child);
  const printed = { text: '' };
  child.stdout?.on('data', (part: Buffer) => (printed.text += String(part)));
  child.stderr?.on('data', (part: Buffer) => (printed.text += String(part)));
  const code = new Promise<number | null>((resolve) => child.on('exit', resolve));
  const prints = (text: string | RegExp) =>
    expect.poll(() => printed.text, { timeout: 60_000, interval: 50 }).toMatch(text);
  const address = async (): Promise<string> => {
    await prints(/http:\/\/127\.0\.0\.1:\d+\/enter\?ticket=[0-9a-f]{64}/);
    return /http:\/\/127\.0\.0\.1:\d+\/enter\?ticket=[0-9a-f]{64}/.exec(printed.text)?.[0] ?? '';
  };
  return { child, printed, code, prints, address };
}

const isPosix = process.platform !== 'win32';

describe('npm start', () => {
  it('without a display prints the address, says so, and keeps serving until told to stop', async () => {
    const run = start([]);
    const address = await run.address();
    await run.prints(/There is no display here/);
    expect((await fetch(address, { redirect: 'manual' })).status).toBe(303);
    run.child.kill('SIGTERM');
    expect(await run.code).toBe(0);
  });

  it('with --no-open opens nothing and prints the address', async () => {
    const opener = fakeProgram('xdg-open', 'exit 0');
    const run = start(['--no-open'], {
      DISPLAY: ':0',
      PATH: `${folder}${delimiter}${process.env.PATH}`,
    });
    await run.address();
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(opener.calls()).toBe('');
  });

  it.runIf(isPosix)(
    'with a display and no desktop runtime says so and opens the system browser',
    async () => {
      const opener = fakeProgram('xdg-open', 'exit 0');
      const run = start([], { DISPLAY: ':0', PATH: `${folder}${delimiter}${process.env.PATH}` });
      const address = await run.address();
      await run.prints(/opens in the system browser/);
      await expect.poll(opener.calls).toBe(address);
    },
  );

  it.runIf(isPosix)(
    'a desktop runtime that dies at once gives way to the browser, in one clear line',
    async () => {
      const opener = fakeProgram('xdg-open', 'exit 0');
      const runtime = fakeProgram('runtime', 'exit 127');
      const run = start([DEMONSTRATION], {
        DISPLAY: ':0',
        RILLSHEET_RUNTIME: runtime.path,
        PATH: `${folder}${delimiter}${process.env.PATH}`,
      });
      const address = await run.address();
      expect(run.printed.text).toMatch(
        /did not start \(code 127\); the same app opens in the browser instead/,
      );
      await expect.poll(opener.calls).toBe(address);
    },
  );

  it.runIf(isPosix)('a desktop runtime that cannot be run at all gives way to the browser', async () => {
    const runtime = join(folder, 'runtime');
    writeFileSync(runtime, 'not a program');
    const run = start([], { DISPLAY: ':0', RILLSHEET_RUNTIME: runtime, PATH: folder });
    await run.address();
    expect(run.printed.text).toMatch(/did not start/);
  });

  it.runIf(isPosix)(
    'a desktop runtime gets the shell and the plan, ends with it, and as root is told of no sandbox',
    async () => {
      const runtime = fakeProgram('runtime', 'exit 0');
      const run = start([DEMONSTRATION], { DISPLAY: ':0', RILLSHEET_RUNTIME: runtime.path });
      expect(await run.code).toBe(0);
      expect(runtime.calls()).toContain(join('dist', 'electron', 'main.js'));
      expect(runtime.calls()).toContain(DEMONSTRATION);
      expect(runtime.calls().includes('--no-sandbox')).toBe(process.getuid?.() === 0);
      expect(run.printed.text).not.toMatch(/127\.0\.0\.1/);
    },
  );

  it.runIf(isPosix)(
    'without rights the desktop runtime keeps its sandbox, and where it dies the app is served all the same',
    async () => {
      const user = plainUser();
      if (user.uid !== undefined) {
        chownSync(folder, user.uid, user.gid);
        chmodSync(folder, 0o755);
      }
      const opener = fakeProgram('xdg-open', 'exit 0');
      const runtime = fakeProgram('runtime', 'exit 1');
      const run = start(
        [],
        { DISPLAY: ':0', RILLSHEET_RUNTIME: runtime.path, PATH: `${folder}${delimiter}${process.env.PATH}` },
        user,
      );
      const address = await run.address();
      await expect.poll(opener.calls).toBe(address);
      expect(runtime.calls()).toContain(join('dist', 'electron', 'main.js'));
      const isRoot = process.getuid?.() === 0 && user.uid === undefined;
      expect(runtime.calls().includes('--no-sandbox')).toBe(isRoot);
    },
  );

  it('a taken port is an error that names it, and leaves the other program alone', async () => {
    const other = createServer();
    await new Promise<void>((resolve) => {
      other.listen(0, '127.0.0.1', () => resolve());
    });
    const { port } = other.address() as { port: number };
    const run = start(['--port', String(port)]);
    expect(await run.code).toBe(1);
    expect(run.printed.text).toContain(`Port ${port} is in use by another program`);
    expect(other.listening).toBe(true);
    other.close();
  });

  it('a wrong option, a bad port and a file that is not there are usage errors', async () => {
    for (const args of [['--nonsense'], ['--port', 'http'], ['--port', '70000'], ['gone.json'], ['a', 'b']]) {
      const run = start(args);
      expect(await run.code, args.join(' ')).toBe(2);
      expect(run.printed.text).toContain('Usage: npm start');
    }
  });
});

const browserPath = findBrowser();

/** A browser in which every name but this computer's own leads nowhere, so that a request elsewhere would fail and be seen. */
const openBrowser = (): Promise<Browser> =>
  chromium.launch({
    ...(browserPath ? { executablePath: browserPath } : {}),
    args: ['--no-sandbox', '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1'],
  });

/** Everything the program's recovery journals hold. */
function journals(): string {
  const place = join(folder, 'data/rillsheet/journal');
  if (!existsSync(place)) return '';
  return readdirSync(place)
    .map((name) => readFileSync(join(place, name), 'utf8'))
    .join('');
}

/** Draws a bed of 12'-6" by 20' by keyboard. */
async function drawBed(page: Page): Promise<void> {
  await page.keyboard.press('F3');
  await page.keyboard.type('draw a rectangular bed');
  await page.keyboard.press('Enter');
  for (const entry of ['E 0 N 0', "12'6 x 20'"]) {
    await page.keyboard.type(entry);
    await page.keyboard.press('Enter');
  }
  await page.keyboard.press('Escape');
}

describe('a session of work in the browser', () => {
  it('opens the plan named at the start, asks nothing but this computer, and stops after the last window went', async () => {
    const plan = join(folder, 'mine.rillsheet.json');
    const { project, ...demonstration } = JSON.parse(readFileSync(DEMONSTRATION, 'utf8'));
    writeFileSync(plan, JSON.stringify({ ...demonstration, project: { ...project, title: 'Mine alone' } }));
    const run = start(['--no-open', plan], { RILLSHEET_IDLE_STOP_MS: '300' });
    const address = await run.address();
    const browser = await openBrowser();
    const context = await browser.newContext({ acceptDownloads: true });
    const asked: string[] = [];
    context.on('request', (request) => asked.push(request.url()));
    const page = await context.newPage();
    await page.goto(address);
    await expect
      .poll(() => page.locator('header.head').textContent(), { timeout: 30_000 })
      .toContain('Mine alone');
    for (const key of ['Alt+1', 'Alt+3', 'Alt+7', 'F3', 'Escape', 'F1', 'Escape'])
      await page.keyboard.press(key);
    await page.keyboard.press('Control+s');
    await expect.poll(() => page.locator('.kept').textContent()).toMatch(/^saved/);
    const origin = new URL(address).origin;
    expect(asked.filter((url) => !url.startsWith(origin) && !/^(blob|data):/.test(url))).toEqual([]);
    expect(asked.length).toBeGreaterThan(5);
    await browser.close();
    expect(await run.code).toBe(0);
    expect(run.printed.text).toContain('The last window was closed; stopping.');
  });

  it('the first start lies on the demonstration; later ones, at another address, ask, in the look chosen before', async () => {
    const first = start(['--no-open']);
    const browser = await openBrowser();
    const page = await browser.newPage();
    await page.goto(await first.address());
    await page.locator('.welcome').waitFor();
    await page.keyboard.press('Control+l');
    await expect.poll(() => page.evaluate(() => document.documentElement.dataset.look)).toBe('light');
    await expect
      .poll(() => readFileSync(join(folder, 'data/rillsheet/remembered.json'), 'utf8'))
      .toContain('"look": "light"');
    first.child.kill('SIGTERM');
    await first.code;
    const second = start(['--no-open']);
    await page.goto(await second.address());
    await page.getByRole('dialog', { name: 'Start' }).waitFor();
    expect(await page.locator('.welcome').count()).toBe(0);
    expect(await page.evaluate(() => document.documentElement.dataset.look)).toBe('light');
    await browser.close();
  });

  it('browser and program killed with work unsaved: the next start offers it, and it is taken or left', async () => {
    const first = start(['--no-open']);
    const browser = await openBrowser();
    const page = await browser.newPage();
    await page.goto(await first.address());
    await page.locator('.welcome').getByRole('button', { name: 'New plan' }).click();
    await page.getByRole('dialog', { name: 'New plan' }).getByLabel('Title').fill('Corner lot');
    await page.getByRole('button', { name: 'Empty sketch' }).click();
    await drawBed(page);
    await page.locator('.kept', { hasText: 'not saved' }).waitFor();
    // The journal has the line once the bed is in it; what came after the last line is lost with any kill.
    await expect.poll(journals).toContain('bed-1');
    first.child.kill('SIGKILL');
    await browser.close();
    const second = start(['--no-open']);
    const later = await openBrowser();
    const again = await later.newPage();
    await again.goto(await second.address());
    const line = again.getByRole('dialog', { name: 'Start' }).locator('li', { hasText: 'Corner lot' });
    await line.getByRole('button', { name: 'Corner lot' }).click();
    await again.locator('.plan-name', { hasText: 'Corner lot' }).waitFor();
    await again.keyboard.press('Alt+3');
    // 12.5 ft x 20 ft = 250 ft2, by hand
    await again.getByText('250 ft²').first().waitFor();
    expect(await again.locator('.kept').textContent()).toBe('not saved');
    await later.close();
  });
});
