import { readFileSync } from 'node:fs';
import { type Browser, type CDPSession, chromium, type Page, type Route } from 'playwright';
import { findBrowser } from '../../../build/systemPackages.mjs';
import { control, isHeldBack } from './control';
import type { BrowserWindow } from './electron';
import { pageWorld } from './pageWorld';
import { preloadWorld } from './preloadWorld';
import { packValue, unpackValue } from './values';

/** Chromium knows no app protocol: app://name/x is played by https://name.shell.test/x, and every request is answered here. */
const toBrowser = (url: string): string =>
  url.replace(/^app:\/\/([^/]+)/, (_all, name) => `https://${name}.shell.test`);
const toShell = (url: string): string =>
  url.replace(/^https:\/\/([^/]+)\.shell\.test/, (_all, name) => `app://${name}`);

let browser: Promise<Browser> | null = null;

/** The page behind a window, with the way to send it a message. */
export interface Peer {
  readonly page: Page;
  send(channel: string, args: readonly unknown[]): void;
}

export async function closeBrowser(): Promise<void> {
  const open = await browser;
  browser = null;
  await open?.close();
}

async function launch(): Promise<Browser> {
  const executablePath = findBrowser();
  return chromium.launch({ ...(executablePath ? { executablePath } : {}), args: ['--no-sandbox'] });
}

async function answerRequest(route: Route): Promise<void> {
  const url = toShell(route.request().url());
  const scheme = url.slice(0, url.indexOf(':'));
  const answer = control.protocols.get(scheme);
  if (answer === undefined || control.privileges.get(scheme)?.standard !== true) {
    control.refusedAddresses.push(url);
    return route.abort('blockedbyclient');
  }
  const response = await answer(new Request(url, { method: route.request().method() }));
  await route.fulfill({
    status: response.status,
    headers: Object.fromEntries(response.headers),
    body: Buffer.from(await response.arrayBuffer()),
  });
}

/** Asks the shell's own handler, as the runtime would for a message from the top frame of this page. */
async function answerMessage(packed: string, url: string): Promise<{ id: number; answer: string }> {
  const { id, channel, args } = unpackValue(packed) as { id: number; channel: string; args: unknown[] };
  const handler = control.handlers.get(channel);
  if (handler === undefined) return { id, answer: packValue({ error: `nobody answers ${channel}` }) };
  try {
    const value = await handler({ senderFrame: { url, parent: null } }, ...args);
    return { id, answer: packValue({ value }) };
  } catch (error) {
    return { id, answer: packValue({ error: String(error) }) };
  }
}

async function injectPreload(session: CDPSession, page: Page, preload: string): Promise<() => number> {
  let world = 0;
  await session.send('Page.enable');
  await session.send('Runtime.enable');
  session.on('Runtime.executionContextCreated', ({ context }) => {
    if (context.name === 'preload') world = context.id;
  });
  session.on('Runtime.bindingCalled', async ({ name, payload, executionContextId }) => {
    if (name !== '__post') return;
    const { id, answer } = await answerMessage(payload, toShell(page.url()));
    await session
      .send('Runtime.evaluate', {
        contextId: executionContextId,
        expression: `__reply(${id}, ${JSON.stringify(answer)})`,
      })
      .catch(() => undefined);
  });
  await session.send('Runtime.addBinding', { name: '__post', executionContextName: 'preload' });
  await session.send('Page.addScriptToEvaluateOnNewDocument', { source: `(${pageWorld})()` });
  await session.send('Page.addScriptToEvaluateOnNewDocument', {
    worldName: 'preload',
    source: `(${preloadWorld})((packed) => __post(packed), (require) => {
      const module = { exports: {} }; const exports = module.exports;
      ${readFileSync(preload, 'utf8')}
    })`,
  });
  return () => world;
}

/** Opens the page of a window: its own browser context, its preload in an isolated world, its requests answered by the shell. */
export async function openPage(window: BrowserWindow, url: string): Promise<Peer> {
  browser ??= launch();
  const { width = 800, height = 600, webPreferences } = window.options;
  const context = await (await browser).newContext({ viewport: { width, height } });
  await context.route('**/*', answerRequest);
  const page = await context.newPage();
  page.on('console', (message) => {
    if (message.type() === 'error') control.complaints.push(message.text());
  });
  page.on('pageerror', (error) => control.complaints.push(error.message));
  page.on('popup', (popup) => {
    if (window.webContents.openHandler?.({ url: popup.url() }).action === 'deny') void popup.close();
  });
  const session = await context.newCDPSession(page);
  const world = await injectPreload(session, page, String(webPreferences?.preload));
  await page.goto(toBrowser(url));
  // From now on a page that wants to go elsewhere must ask the shell first.
  await page.route('**/*', (route) =>
    route.request().isNavigationRequest() && route.request().frame() === page.mainFrame()
      ? isHeldBack(window.webContents, 'will-navigate')
        ? route.abort('aborted')
        : route.fallback()
      : route.fallback(),
  );
  return {
    page,
    send(channel, args) {
      void session
        .send('Runtime.evaluate', {
          contextId: world(),
          expression: `__send(${JSON.stringify(channel)}, ${JSON.stringify(packValue(args))})`,
        })
        .catch(() => undefined);
    },
  };
}
