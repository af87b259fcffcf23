import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright';
import { build, type PreviewServer, preview } from 'vite';

const CONFIG = fileURLToPath(new URL('../../build/vite.config.ts', import.meta.url));
const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

/** The built app behind a local address, and a browser to use it with. */
export interface Bench {
  readonly address: string;
  readonly browser: Browser;
  close(): Promise<void>;
}

/** Builds the app, unless a test run did so for all its files, and opens it to a browser. The host name makes it the bare browser's app, with no server behind it. */
export async function setUpBench(): Promise<Bench> {
  if (!process.env.RILLSHEET_BUILT) await build({ configFile: CONFIG, logLevel: 'error' });
  const server: PreviewServer = await preview({
    configFile: CONFIG,
    logLevel: 'error',
    preview: { port: 0, host: 'localhost' },
  });
  const executablePath = process.env.CHROMIUM_PATH ?? PLACES.find(existsSync);
  const browser = await chromium.launch({
    ...(executablePath === undefined ? {} : { executablePath }),
    args: ['--no-sandbox'],
  });
  return {
    address: server.resolvedUrls?.local[0] ?? '',
    browser,
    async close() {
      await browser.close();
      await server.close();
    },
  };
}

/** One visit, with everything it asked the network for and every complaint of the page. */
export interface Visit {
  readonly page: Page;
  readonly context: BrowserContext;
  readonly asked: string[];
  readonly complaints: string[];
}

/** How a visit begins; what is left out is as usual. */
export interface VisitOptions {
  readonly viewport?: { readonly width: number; readonly height: number };
  /** Someone who was here before finds the start page instead of the demonstration. */
  readonly isLater?: boolean;
  /** What the browser is told before the page opens. */
  readonly prepare?: (context: BrowserContext) => Promise<void>;
}

/** A visit with everything the page asks for and complains of. */
export async function open(bench: Bench, options: VisitOptions = {}): Promise<Visit> {
  const viewport = options.viewport ?? { width: 1440, height: 900 };
  const context = await bench.browser.newContext({ viewport, acceptDownloads: true });
  // The frame a sheet is printed from has no store of its own.
  if (options.isLater)
    await context.addInitScript(() => window.localStorage?.setItem('rillsheet.visited', 'yes'));
  await options.prepare?.(context);
  const page = await context.newPage();
  const asked: string[] = [];
  const complaints: string[] = [];
  page.on('request', (request) => asked.push(request.url()));
  // The browser hands its file dialog over only once somebody listens for it; asked for just before the key, it comes too late.
  page.on('filechooser', () => undefined);
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(bench.address);
  await page.locator('#sketch').waitFor();
  return { page, context, asked, complaints };
}

/** A first visit: the demonstration lies on the desk, designed. */
export async function visit(bench: Bench, options: VisitOptions = {}): Promise<Visit> {
  const opened = await open(bench, options);
  await settled(opened.page);
  return opened;
}

/** A later visit: the start page lies over an empty desk. */
export const openLater = (bench: Bench, options: VisitOptions = {}): Promise<Visit> =>
  open(bench, { ...options, isLater: true });

/** A later visit that begins an empty plan from the start page. */
export async function startEmpty(bench: Bench, options: VisitOptions = {}): Promise<Visit> {
  const started = await openLater(bench, options);
  await started.page
    .getByRole('dialog', { name: 'Start' })
    .getByRole('button', { name: /^New plan/ })
    .click();
  await started.page.getByRole('button', { name: 'Empty sketch' }).click();
  await started.page.getByRole('dialog').waitFor({ state: 'hidden' });
  await started.page.locator('#sketch').focus();
  return started;
}

/** Waits until the figures answer for the plan on the desk. */
export async function settled(page: Page): Promise<void> {
  await page.locator('body[data-design="finished"]').waitFor({ timeout: 180_000 });
}

/** Tubing of one bed as the Tubing page prints it, in feet. */
export async function tubingFt(page: Page, bedId: string): Promise<number> {
  const text = await page.locator(`[data-role="tubing-${bedId}"]`).first().textContent();
  return Number((text ?? '').replace(/[^\d.]/g, ''));
}

/** Where a plan point is on the screen; the sketch publishes its view for this. */
export async function onScreen(page: Page, x: number, y: number): Promise<{ x: number; y: number }> {
  const frame = await page.locator('#sketch').boundingBox();
  const view = await page.locator('#sketch').getAttribute('data-view');
  if (!frame || !view) throw new Error('the sketch is not on the page');
  const [originX = 0, originY = 0, pixelsPerM = 1] = view.split(' ').map(Number);
  return { x: frame.x + originX + x * pixelsPerM, y: frame.y + originY - y * pixelsPerM };
}

/** Does an action by its name in the searchable list, by keyboard alone. */
export async function act(page: Page, name: string): Promise<void> {
  await page.keyboard.press('F3');
  await page.keyboard.type(name);
  await page.keyboard.press('Enter');
}

/** Writes entries on the rule, one after another. An empty one is Return alone. */
export async function typeOnRule(page: Page, ...entries: readonly string[]): Promise<void> {
  for (const entry of entries) {
    await page.keyboard.type(entry);
    await page.keyboard.press('Enter');
  }
}

/** Presses the sketch at a place of the plan, in metres. */
export async function clickAt(page: Page, x: number, y: number): Promise<void> {
  const at = await onScreen(page, x, y);
  await page.mouse.click(at.x, at.y);
}

/** Saves the plan through the browser and gives the very text that was written. */
export async function saveText(page: Page): Promise<Buffer> {
  const saved = page.waitForEvent('download');
  await page.keyboard.press('Control+s');
  const text = readFileSync(await (await saved).path());
  await page.locator('.kept', { hasText: /^saved / }).waitFor();
  return text;
}

/** Answers the browser's file chooser, opened by `ask`, with a file of these bytes. */
export async function giveFile(
  page: Page,
  ask: () => Promise<unknown>,
  name: string,
  buffer: Buffer,
): Promise<void> {
  const chooser = page.waitForEvent('filechooser');
  await ask();
  await (await chooser).setFiles({ name, mimeType: 'application/octet-stream', buffer });
}

/** Notes every sheet that is handed to the printer instead of opening the system's dialogue, which no test can answer. */
export async function watchPrinter(context: BrowserContext): Promise<void> {
  await context.addInitScript(() => {
    const printed: Blob[] = [];
    Object.assign(window, { printed });
    // The page's own policy forbids it to read a made address back, so what was made is kept.
    const made = new Map<string, Blob>();
    const make = URL.createObjectURL.bind(URL);
    URL.createObjectURL = (blob: Blob) => {
      const address = make(blob);
      made.set(address, blob);
      return address;
    };
    const real = Object.getOwnPropertyDescriptor(HTMLIFrameElement.prototype, 'contentWindow');
    Object.defineProperty(HTMLIFrameElement.prototype, 'contentWindow', {
      configurable: true,
      get(this: HTMLIFrameElement) {
        if (!this.classList.contains('print-frame')) return real?.get?.call(this);
        return { print: () => printed.push(made.get(this.src) ?? new Blob()) };
      },
    });
  });
}

/** The PDF that the next print hands to the printer's dialogue; `ask` is what a person does to print. */
export async function printedSheet(page: Page, ask: () => Promise<unknown>): Promise<Buffer> {
  const count = (): Promise<number> =>
    page.evaluate(() => (window as unknown as { printed: Blob[] }).printed.length);
  const before = await count();
  await ask();
  await page.waitForFunction(
    (already) => (window as unknown as { printed: Blob[] }).printed.length === already + 1,
    before,
    { timeout: 180_000 },
  );
  const text = await page.evaluate(async () => {
    const sheet = (window as unknown as { printed: Blob[] }).printed.at(-1) ?? new Blob();
    const bytes = new Uint8Array(await sheet.arrayBuffer());
    return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
  });
  return Buffer.from(text, 'base64');
}

/**
 * Presses Tab until what has this name has the focus, as a person without a pointer does: a field by its label, else a
 * button or a heading to unfold by its words. Fails where Tab never comes there.
 */
export async function tabTo(page: Page, name: string | RegExp, key = 'Tab'): Promise<void> {
  const focused = (): Promise<string> =>
    page.evaluate(() => {
      const element = document.activeElement;
      // Nothing has the focus: the page's own words are no button's.
      if (element === document.body) return '';
      if (element instanceof HTMLInputElement || element instanceof HTMLSelectElement)
        return element.labels?.[0]?.textContent ?? element.getAttribute('aria-label') ?? '';
      return element?.textContent?.trim() ?? '';
    });
  for (let presses = 0; presses < 150; presses += 1) {
    const here = await focused();
    if (typeof name === 'string' ? here === name : name.test(here)) return;
    await page.keyboard.press(key);
  }
  throw new Error(`Tab never came to ${name}`);
}
