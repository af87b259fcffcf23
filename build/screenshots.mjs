import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright';
import { preview } from 'vite';
import { ensureBuilt } from './build.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const out = join(root, 'dist/screenshots');
const wanted = process.argv.slice(2);

/** What each picture shows, and how to get there from the demonstration. */
const SCENES = {
  site: (page) => page.keyboard.press('Alt+1'),
  water: (page) => page.keyboard.press('Alt+2'),
  beds: async (page) => {
    await page.keyboard.press('Alt+3');
    await page.getByRole('button', { name: 'Rose border', exact: true }).first().click();
  },
  drawing: async (page) => {
    await page.keyboard.press('Alt+3');
    await page.getByRole('button', { name: 'Outline', exact: true }).click();
    const sketch = await page.locator('#sketch').boundingBox();
    await page.mouse.click(sketch.x + 200, sketch.y + 560);
    await page.mouse.click(sketch.x + 330, sketch.y + 520);
    await page.mouse.move(sketch.x + 350, sketch.y + 620);
    await page.keyboard.type("12'6");
  },
  tubing: async (page) => {
    await page.keyboard.press('Alt+4');
    await page.locator('.figures .ledger .plain').first().click();
  },
  zones: (page) => page.keyboard.press('Alt+5'),
  review: async (page) => {
    await page.keyboard.press('Alt+6');
    await page.locator('.finding-line').first().click();
  },
  sheet: async (page) => {
    await page.keyboard.press('Alt+7');
    await page.waitForTimeout(4000);
  },
  corners: async (page) => {
    await page.keyboard.press('Alt+1');
    await page.keyboard.press('Escape');
    await page.locator('#contents').click();
    await page.locator('.contents-line', { hasText: 'House, finished floor' }).click();
    await page.locator('#contents').click();
    await page.locator('#sketch').focus();
    await page.keyboard.press('>');
    await page.keyboard.press('Shift+Insert');
  },
  find: (page) => page.keyboard.press('F3'),
  help: (page) => page.keyboard.press('F1'),
};

await ensureBuilt();
mkdirSync(out, { recursive: true });
const server = await preview({
  configFile: join(root, 'build/vite.config.ts'),
  preview: { port: 0, host: 'localhost' },
});
const address = server.resolvedUrls.local[0];
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM_PATH ?? '/usr/bin/chromium',
  args: ['--no-sandbox'],
});
for (const look of ['light', 'dark', 'contrast']) {
  for (const deviceScaleFactor of [1, 2]) {
    const suffix = `${look}${deviceScaleFactor === 2 ? '-2x' : ''}`;
    const scenes = Object.entries(SCENES).filter(
      ([name]) => wanted.length === 0 || wanted.includes(name) || wanted.includes(`${name}-${suffix}`),
    );
    if (scenes.length === 0) continue;
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 }, deviceScaleFactor });
    page.on('console', (message) => {
      if (message.type() === 'error') console.error(suffix, message.text());
    });
    page.on('pageerror', (error) => console.error(suffix, error.message));
    await page.addInitScript((chosen) => localStorage.setItem('rillsheet.look', chosen), look);
    await page.goto(address);
    await page.locator('body[data-design="finished"]').waitFor({ timeout: 180_000 });
    await page.locator('.welcome').getByRole('button', { name: 'Close' }).click();
    // One page for all of a look: the demonstration is designed once, and each scene leaves it as it was.
    for (const [name, go] of scenes) {
      await go(page);
      await page.waitForTimeout(700);
      await page.screenshot({ path: join(out, `${name}-${suffix}.png`) });
      for (let times = 0; times < 4; times++) await page.keyboard.press('Escape');
      await page.keyboard.press('Alt+1');
      await page.locator('#sketch').focus();
      await page.keyboard.press('Escape');
      await page.keyboard.press('Home');
      console.log(`${name}-${suffix}`);
    }
    await page.close();
  }
}
await browser.close();
await server.close();
