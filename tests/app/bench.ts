import { existsSync } from 'node:fs';
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

/** Builds the app and opens it to a browser. The host name makes it the bare browser's app, with no server behind it. */
export async function setUpBench(): Promise<Bench> {
  await build({ configFile: CONFIG, logLevel: 'error' });
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

/** A first visit: the demonstration lies on the desk, designed. */
export async function visit(bench: Bench): Promise<Visit> {
  const opened = await open(bench, { width: 1440, height: 900 });
  await settled(opened.page);
  return opened;
}

async function open(
  bench: Bench,
  viewport: { width: number; height: number },
  isLaterVisit = false,
): Promise<Visit> {
  const context = await bench.browser.newContext({ viewport, acceptDownloads: true });
  if (isLaterVisit) await context.addInitScript(() => localStorage.setItem('rillsheet.visited', 'yes'));
  const page = await context.newPage();
  const asked: string[] = [];
  const complaints: string[] = [];
  page.on('request', (request) => asked.push(request.url()));
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(bench.address);
  await page.locator('#sketch').waitFor();
  return { page, context, asked, complaints };
}

/** A later visit: the start page lies over an empty desk. */
export const openLater = (bench: Bench, viewport = { width: 1440, height: 900 }): Promise<Visit> =>
  open(bench, viewport, true);

/** A later visit that begins an empty plan from the start page. */
export async function startEmpty(bench: Bench, viewport = { width: 1440, height: 900 }): Promise<Visit> {
  const started = await openLater(bench, viewport);
  await started.page
    .getByRole('dialog', { name: 'Start' })
    .getByRole('button', { name: /^New plan/ })
    .click();
  await started.page.getByRole('button', { name: 'Empty sketch' }).click();
  await started.page.locator('#sketch').focus();
  return started;
}

/** Waits until the figures answer for the plan on the desk. */
export async function settled(page: Page): Promise<void> {
  await page.locator('body[data-design="finished"]').waitFor({ timeout: 180_000 });
}

/** Tubing of one bed as the Tubing page prints it, in feet. */
export async function tubingFt(page: Page, bedId: string): Promise<number> {
  const text = await page.locator(`[data-role="tubing-${bedId}"]`).first().innerText();
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
