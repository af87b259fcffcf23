import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ensureBuilt } from '../../build/build.mjs';
import { launchStandIn } from './driver';

const root = fileURLToPath(new URL('../..', import.meta.url));
const textsIn = (folder: string): string =>
  readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.(ts|tsx|html)$/.test(entry.name))
    .map((entry) => readFileSync(join(entry.parentPath, entry.name), 'utf8'))
    .join('\n');

/**
 * The security checklist published with the desktop runtime (its documentation, "Security", items 1 to 20), item by item.
 * What only a real sandbox can prove is proved by shell.test.ts where the runtime's binary is.
 */
describe("the runtime's published security checklist", () => {
  let shell: Awaited<ReturnType<typeof launchStandIn>>;
  beforeAll(async () => {
    await ensureBuilt();
    shell = await launchStandIn();
    await shell.page.locator('#sketch').waitFor();
  });
  afterAll(() => shell?.end());
  const everyWindow = (): readonly Readonly<Record<string, unknown>>[] => {
    const files = readdirSync(join(root, 'electron'), { withFileTypes: true }).filter((entry) =>
      entry.isFile(),
    );
    const made = files.flatMap(({ name }) =>
      [...readFileSync(join(root, 'electron', name), 'utf8').matchAll(/webPreferences: \{([^}]*)\}/g)].map(
        (match) => match[1] ?? '',
      ),
    );
    return made.map((block) =>
      Object.fromEntries([...block.matchAll(/(\w+): (true|false)/g)].map(([, key, value]) => [key, value])),
    );
  };

  it('1 only secure content is loaded: the shell names no address but its own', () => {
    expect(textsIn('electron').match(/https?:\/\/[^\s'"`]+/g)).toBeNull();
    expect(shell.control.refusedAddresses).toEqual([]);
    expect(shell.control.windows[0]?.url).toBe('app://rillsheet/index.html');
  });

  it('2 and 3 and 4 no window has Node in its page, every one is isolated and sandboxed', () => {
    const windows = everyWindow();
    expect(windows.length).toBe(2);
    for (const preferences of windows)
      expect(preferences).toMatchObject({
        nodeIntegration: 'false',
        contextIsolation: 'true',
        sandbox: 'true',
      });
    expect(shell.control.windows[0]?.options.webPreferences).toMatchObject({
      nodeIntegration: false,
      contextIsolation: true,
      sandbox: true,
    });
  });

  it('5 every permission is denied, asked for or looked up', () => {
    const given: boolean[] = [];
    for (const permission of ['media', 'geolocation', 'notifications', 'usb', 'openExternal', 'fullscreen'])
      shell.control.permissionRequest?.({}, permission, (isAllowed) => given.push(isAllowed));
    expect(given).toEqual([false, false, false, false, false, false]);
    expect(shell.control.permissionCheck?.()).toBe(false);
  });

  it('6, 8, 9, 10 nothing weakens the page: web security, mixed content, experiments, engine switches', () => {
    const weakening =
      /webSecurity|allowRunningInsecureContent|experimentalFeatures|enableBlinkFeatures|nodeIntegrationInWorker|nodeIntegrationInSubFrames|appendSwitch/;
    expect(textsIn('electron')).not.toMatch(weakening);
  });

  it('7 a content policy travels with every file, refuses foreign scripts, and holds', async () => {
    const answer = await shell.control.protocols.get('app')?.(new Request('app://rillsheet/index.html'));
    expect(answer?.headers.get('content-security-policy')).toContain("default-src 'self'");
    const ran = await shell.page.evaluate(() => {
      const script = document.createElement('script');
      script.textContent = 'globalThis.ranInline = true';
      document.head.append(script);
      return 'ranInline' in globalThis;
    });
    expect(ran).toBe(false);
    shell.control.complaints.length = 0;
  });

  it('11 and 12 no page is put within a page', () => {
    expect(textsIn('src/app')).not.toMatch(/<webview/);
    let isHeld = false;
    shell.control.windows[0]?.webContents.emit('will-attach-webview', {
      preventDefault: () => {
        isHeld = true;
      },
    });
    expect(isHeld).toBe(true);
    for (const preferences of everyWindow()) expect(preferences.webviewTag).toBe('false');
  });

  it('13 the page cannot go to another address, nor be sent there', async () => {
    await shell.page.evaluate(() => {
      location.href = 'https://example.test/elsewhere';
    });
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(shell.control.refusedAddresses.filter((url) => url.includes('elsewhere'))).toEqual([]);
    let held = 0;
    for (const event of ['will-navigate', 'will-redirect'])
      shell.control.windows[0]?.webContents.emit(event, { preventDefault: () => (held += 1) });
    expect(held).toBe(2);
    expect(await shell.page.locator('#sketch').count()).toBe(1);
  });

  it('14 no new window opens', async () => {
    await shell.page.evaluate(() => window.open('app://rillsheet/index.html'));
    await expect.poll(() => shell.page.context().pages().length).toBe(1);
    expect(shell.control.windows[0]?.webContents.openHandler?.({ url: 'app://rillsheet/' })).toEqual({
      action: 'deny',
    });
  });

  it('15 no address is handed to the system to open', () => {
    expect(textsIn('electron')).not.toMatch(/openExternal|openPath\(.*shell|\bshell\b.*from 'electron'/);
  });

  it('16 the runtime is pinned to a version still supported when this was written', () => {
    const { optionalDependencies } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
    expect(optionalDependencies.electron).toMatch(/^\d+\.\d+\.\d+$/);
    expect(Number.parseInt(optionalDependencies.electron, 10)).toBeGreaterThanOrEqual(45);
  });

  it('17 a message from another page, a frame or nowhere is refused on every channel', async () => {
    expect(shell.control.handlers.size).toBe(12);
    const senders = [
      null,
      { url: 'https://example.test/', parent: null },
      { url: 'app://rillsheet.example.test/', parent: null },
      { url: 'app://other/index.html', parent: null },
      { url: 'app://rillsheet/index.html', parent: {} },
      { url: 'data:application/pdf;base64,', parent: null },
    ];
    for (const [channel, handler] of shell.control.handlers)
      for (const senderFrame of senders)
        await expect(handler({ senderFrame }), `${channel} ${senderFrame?.url}`).rejects.toThrow(/refused/);
  });

  it('18 pages come over the own protocol, never from the file system', () => {
    expect([...shell.control.protocols.keys()]).toEqual(['app']);
    expect(shell.control.privileges.get('app')).toMatchObject({ standard: true, secure: true });
    expect(textsIn('electron')).not.toMatch(/file:\/\/|loadFile/);
  });

  it('20 the page gets the contract and nothing of the runtime', async () => {
    const members = await shell.page.evaluate(() =>
      Object.entries((window as unknown as { rillsheetHost: object }).rillsheetHost).map(
        ([key, value]) => `${key}: ${typeof value}`,
      ),
    );
    expect(members.sort()).toEqual(
      [
        'exportBytes: function',
        'journalAppend: function',
        'journalClear: function',
        'journalRead: function',
        'kind: string',
        'onAction: function',
        'onOpenFile: function',
        'open: function',
        'openRecent: function',
        'print: function',
        'recent: function',
        'save: function',
        'saveAs: function',
        'setUnsaved: function',
      ].sort(),
    );
    const heard = readFileSync(join(root, 'electron/preload.ts'), 'utf8');
    expect(heard).not.toMatch(/exposeInMainWorld\([^)]*ipcRenderer/);
  });
});

describe("the app's own protocol", () => {
  let shell: Awaited<ReturnType<typeof launchStandIn>>;
  beforeAll(async () => {
    await ensureBuilt();
    shell = await launchStandIn({ hasPages: false });
  });
  afterAll(() => shell?.end());
  const statusOf = async (url: string): Promise<number> =>
    (await shell.control.protocols.get('app')?.(new Request(url)))?.status ?? 0;

  it('serves the app with the type of each file', async () => {
    const scripts = readdirSync(join(root, 'dist/app/assets')).filter((name) => name.endsWith('.js'));
    const answer = await shell.control.protocols.get('app')?.(
      new Request(`app://rillsheet/assets/${scripts[0]}`),
    );
    expect(answer?.status).toBe(200);
    expect(answer?.headers.get('content-type')).toContain('text/javascript');
  });

  it('a hundred ways out of the folder are all not there', async () => {
    const climbs = [
      '..',
      '%2e%2e',
      '%2E%2E',
      '..%2f..',
      '..%5c',
      '....',
      '.%2e',
      '%252e%252e',
      '..;',
      '..%00',
    ];
    const targets = [
      'electron/main.js',
      'electron/preload.cjs',
      '../package.json',
      '../../etc/passwd',
      'host/node.js',
      'electron%2fmain.js',
      'electron%5cmain.js',
      '../node_modules/zod/package.json',
      'app/../electron/main.js',
      '%2e%2e/package.json',
    ];
    let tried = 0;
    for (const climb of climbs)
      for (const target of targets) {
        expect(await statusOf(`app://rillsheet/${climb}/${target}`), `${climb}/${target}`).toBe(404);
        tried += 1;
      }
    expect(tried).toBe(100);
  });

  it('another host of the protocol, a folder and a broken escape are not there', async () => {
    for (const url of [
      'app://other/index.html',
      'app://rillsheet/assets/',
      'app://rillsheet/%zz',
      'app://rillsheet/%00',
    ])
      expect(await statusOf(url), url).toBe(404);
  });
});
