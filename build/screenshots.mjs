import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright';
import { preview } from 'vite';
import { ensureBuilt } from './build.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const out = join(root, 'dist/pictures');
const wanted = process.argv.slice(2);

/** What each picture shows, and how to get there from the demonstration. */
const SCENES = {
  site: (page) => page.keyboard.press('Alt+1'),
  water: (page) => page.keyboard.press('Alt+2'),
  beds: async (page) => {
    await page.keyboard.press('Alt+3');
    await page
      .getByRole('button', { name: /^Bed|^A/ })
      .first()
      .click();
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
  sheet: (page) => page.keyboard.press('Alt+7'),
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
  for (const deviceScaleFactor of look === 'light' ? [1, 2] : [1]) {
    for (const [name, go] of Object.entries(SCENES)) {
      const label = `${name}-${look}${deviceScaleFactor === 2 ? '-2x' : ''}`;
      if (wanted.length > 0 && !wanted.includes(label) && !wanted.includes(name)) continue;
      if (deviceScaleFactor === 2 && !['zones', 'drawing'].includes(name)) continue;
      const page = await browser.newPage({ viewport: { width: 1440, height: 900 }, deviceScaleFactor });
      page.on('console', (message) => {
        if (message.type() === 'error') console.error(label, message.text());
      });
      page.on('pageerror', (error) => console.error(label, error.message));
      await page.addInitScript((chosen) => localStorage.setItem('rillsheet.look', chosen), look);
      await page.goto(address);
      await page.getByText('all settled').waitFor({ timeout: 60_000 });
      await page.locator('.welcome').getByRole('button', { name: 'Close' }).click();
      await go(page);
      await page.waitForTimeout(500);
      await page.screenshot({ path: join(out, `${label}.png`) });
      await page.close();
      console.log(label);
    }
  }
}
await browser.close();
await server.close();
