import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  act,
  type Bench,
  giveFile,
  openLater,
  saveText,
  setUpBench,
  startEmpty,
  tabTo,
  typeOnRule,
} from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

const FOOT = 0.3048;
const GPM = 0.003785411784 / 60;

const focused = (page: Page): Promise<string> => page.evaluate(() => document.activeElement?.id ?? '');

/** A white picture of 60 x 40 pixels, made by the browser itself. */
async function whitePicture(page: Page): Promise<Buffer> {
  const text = await page.evaluate(() => {
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = [60, 40];
    const context = canvas.getContext('2d')!;
    context.fillStyle = 'white';
    context.fillRect(0, 0, 60, 40);
    return canvas.toDataURL('image/png').split(',')[1] ?? '';
  });
  return Buffer.from(text, 'base64');
}

describe('the hand goes on where the work does', () => {
  it('in the bucket test of a new plan: Return keeps a figure and the leaf, Tab comes to the flow; then the sketch has the keys', async () => {
    const { page, context, complaints } = await openLater(bench);
    await page
      .getByRole('dialog', { name: 'Start' })
      .getByRole('button', { name: /^New plan/ })
      .click();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'The water' }).waitFor();
    await tabTo(page, 'Bucket and stopwatch');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    await page.keyboard.type('5');
    await page.keyboard.press('Tab');
    await page.keyboard.type('30');
    await page.keyboard.press('Enter');
    expect(await page.getByRole('heading', { name: 'The water' }).count()).toBe(1);
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Escape');
    await page.getByRole('dialog').waitFor({ state: 'hidden' });
    expect(await focused(page)).toBe('sketch');
    const [source] = Object.values(JSON.parse((await saveText(page)).toString()).sources) as {
      flowTestM3s: number;
    }[];
    // 5 gallons in half a minute, by hand
    expect((source?.flowTestM3s ?? 0) / GPM).toBeCloseTo(10, 6);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('over an underlay: the second point asks for the distance, whose answer gives the hand back; a pointer on its way is no third point', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    const picture = await whitePicture(page);
    await giveFile(page, () => act(page, 'bring in a picture'), 'lot.png', picture);
    const scale = page.getByText('Scale: measure between two points');
    await scale.waitFor();
    await act(page, 'measure');
    await typeOnRule(page, 'E 2 N 2', 'E 12 N 2');
    const field = page.getByLabel('Really apart');
    expect(await field.evaluate((element) => element === document.activeElement)).toBe(true);
    const frame = (await page.locator('#sketch').boundingBox())!;
    await page.mouse.move(frame.x + 300, frame.y + 200);
    await page.mouse.move(frame.x + 20, frame.y + 220, { steps: 4 });
    expect(await field.count()).toBe(1);
    const scaleOf = async (): Promise<number> =>
      (
        Object.values(JSON.parse((await saveText(page)).toString()).underlays)[0] as {
          metresPerPixel: number;
        }
      ).metresPerPixel;
    const before = await scaleOf();
    await field.focus();
    await typeOnRule(page, "20'");
    await page.getByText('Scale set.').waitFor();
    expect(await focused(page)).toBe('sketch');
    // Ten feet as it lay are twenty.
    expect((await scaleOf()) / before).toBeCloseTo((20 * FOOT) / (10 * FOOT), 6);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('to another step: its page begins at its head', async () => {
    const { page, context } = await startEmpty(bench);
    const top = (): Promise<number> => page.locator('.figures').evaluate((element) => element.scrollTop);
    await page.locator('.figures').evaluate((element) => element.scrollTo(0, 300));
    expect(await top()).toBeGreaterThan(100);
    await page.keyboard.press('Alt+2');
    await page.getByRole('heading', { name: 'Water', exact: true }).waitFor();
    expect(await top()).toBe(0);
    await context.close();
  });
});
