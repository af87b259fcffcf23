import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { chromium, type Page } from 'playwright';
import { build, preview } from 'vite';
import { writePlan } from '../../src/core/plan';
import { tenBeds } from './tenBeds';

/** One row of a table of the bench. */
export type Row = Readonly<Record<string, string | number>>;

/** What a bench hands back to be printed. */
export interface Table {
  readonly title: string;
  readonly rows: readonly Row[];
}

const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

async function openPlan(page: Page, address: string): Promise<void> {
  await page.addInitScript(() => localStorage.setItem('rillsheet.visited', 'yes'));
  await page.goto(address);
  const chooser = page.waitForEvent('filechooser');
  await page.getByRole('dialog').getByRole('button', { name: /^Open/ }).click();
  const buffer = Buffer.from(writePlan(tenBeds()));
  await (await chooser).setFiles({ name: 'ten.rillsheet.json', mimeType: 'application/json', buffer });
  await page.locator('body[data-design="finished"]').waitFor({ timeout: 300_000 });
}

/** Where a place of the plan stands on the screen, CSS pixels. */
export async function cornerOnScreen(page: Page, x: number, y: number): Promise<{ x: number; y: number }> {
  const sketch = page.locator('#sketch');
  const frame = await sketch.boundingBox();
  const [left = 0, top = 0, scale = 1] = ((await sketch.getAttribute('data-view')) ?? '')
    .split(' ')
    .map(Number);
  if (!frame) throw new Error('the sketch is not on the page');
  return { x: frame.x + left + x * scale, y: frame.y + top - y * scale };
}

/** Builds the app, opens the plan of ten beds in a browser, and closes everything after the work. */
export async function withTenBeds<T>(
  root: string,
  work: (page: Page) => Promise<T>,
  prepare: (page: Page) => Promise<void> = async () => undefined,
): Promise<T> {
  const configFile = join(root, 'build/vite.config.ts');
  await build({ configFile, logLevel: 'error' });
  const server = await preview({ configFile, logLevel: 'error', preview: { port: 0, host: 'localhost' } });
  const executablePath = process.env.CHROMIUM_PATH ?? PLACES.find(existsSync);
  const browser = await chromium.launch({
    ...(executablePath === undefined ? {} : { executablePath }),
    args: ['--no-sandbox'],
  });
  try {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    await prepare(page);
    await openPlan(page, server.resolvedUrls?.local[0] ?? '');
    return await work(page);
  } finally {
    await browser.close();
    await server.close();
  }
}
