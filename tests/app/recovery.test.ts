import type { BrowserContext, Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { act, type Bench, saveText, setUpBench, startEmpty, tabTo, typeOnRule } from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

/** A bed of 12'-6" by 20' in a plan with a title, drawn by keyboard. */
async function drawBed(page: Page): Promise<void> {
  await page.keyboard.press('Alt+1');
  await page.getByLabel('Title').fill('Corner lot');
  await page.getByLabel('Title').press('Enter');
  await act(page, 'draw a rectangular bed');
  await typeOnRule(page, 'E 0 N 0', "12'6 x 20'");
  await page.keyboard.press('Escape');
  await page.keyboard.press('Alt+3');
  // 12.5 ft x 20 ft = 250 ft2, by hand
  await page.getByText('250 ft²').first().waitFor();
}

/** The page's process dies under the designer's hands, with no word of farewell. */
async function crash(page: Page): Promise<void> {
  const crashed = page.waitForEvent('crash');
  await page.goto('chrome://crash').catch(() => undefined);
  await crashed;
  await page.close();
}

async function comeBack(context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  await page.goto(bench.address);
  await page.getByRole('dialog', { name: 'Start' }).waitFor();
  return page;
}

const recoveredLine = (page: Page) =>
  page.getByRole('dialog', { name: 'Start' }).locator('li', { hasText: 'Corner lot' });

/** The characters kept of a plan's story in the browser's own store. */
const storyLength = (page: Page): Promise<number> =>
  page.evaluate(() =>
    Object.entries(localStorage)
      .filter(([name]) => name.startsWith('rillsheet.journal.'))
      .reduce((sum, [, text]) => sum + String(text).length, 0),
  );

describe('after a fall', () => {
  it('a long story has begun again meanwhile, and the plan lies there as it was all the same', async () => {
    const { page, context } = await startEmpty(bench);
    await page.keyboard.press('Alt+1');
    await page.getByLabel('Title').fill('Corner lot');
    await page.getByLabel('Title').press('Enter');
    // Three arcs of 100 ft are stored as some hundred points each: a move of them writes some twenty thousand characters.
    await act(page, 'trace paving');
    await page.locator('#sketch').focus();
    await page.keyboard.press('Shift+Digit2');
    await typeOnRule(page, 'E 0 N 0', "100' at 0", "20'", "100' at 90", "20'", "100' at 180", "20'", '');
    await page.keyboard.press('Escape');
    const cornerM = async (on: Page): Promise<number> => {
      const [paving] = Object.values(JSON.parse((await saveText(on)).toString()).structures) as {
        shape: { rings: { x: number }[][] };
      }[];
      return paving!.shape.rings[0]![0]!.x;
    };
    const drawnM = await cornerM(page);
    await page.locator('#sketch').focus();
    const steps = 24;
    for (let step = 0; step < steps; step++) await page.keyboard.press('ArrowRight');
    // A story may hold 200,000 characters and its last line; 24 such moves write more than twice as much.
    expect(await storyLength(page)).toBeGreaterThan(10_000);
    expect(await storyLength(page)).toBeLessThan(280_000);
    await crash(page);
    const again = await comeBack(context);
    await recoveredLine(again).getByRole('button', { name: 'Corner lot' }).click();
    await again.locator('.plan-name', { hasText: 'Corner lot' }).waitFor();
    // Every step is of one length, some whole inches: as many steps as were pressed lie between.
    const inches = ((await cornerM(again)) - drawnM) / 0.0254 / steps;
    expect(inches).toBeGreaterThanOrEqual(1 - 1e-9);
    expect(Math.abs(inches - Math.round(inches))).toBeLessThan(1e-6);
    await context.close();
  });

  it('the plan is offered, by name and with its edits, and lies there again as it was, still to be saved', async () => {
    const { page, context } = await startEmpty(bench);
    await drawBed(page);
    await crash(page);
    const again = await comeBack(context);
    await recoveredLine(again).getByRole('button', { name: 'Corner lot' }).click();
    await again.locator('.plan-name', { hasText: 'Corner lot' }).waitFor();
    await again.keyboard.press('Alt+3');
    await again.getByText('250 ft²').first().waitFor();
    expect(await again.locator('.kept').textContent()).toBe('not saved');
    const plan = JSON.parse((await saveText(again)).toString());
    expect(Object.keys(plan.beds)).toEqual(['bed-1']);
    await again.close();
    const afterSaving = await comeBack(context);
    expect(await recoveredLine(afterSaving).count()).toBe(0);
    await context.close();
  });

  it('it is never forced: a new plan may be begun instead, and what fell is still offered later, till it is thrown away', async () => {
    const { page, context } = await startEmpty(bench);
    await drawBed(page);
    await crash(page);
    const again = await comeBack(context);
    await recoveredLine(again).waitFor();
    await again.keyboard.press('Escape');
    expect(await again.locator('.plan-name').textContent()).toBe('Untitled plan');
    await act(again, 'start page');
    await recoveredLine(again).getByRole('button', { name: 'Discard' }).click();
    await recoveredLine(again).waitFor({ state: 'detached' });
    await again.close();
    const later = await comeBack(context);
    expect(await recoveredLine(later).count()).toBe(0);
    await context.close();
  });

  it('by keyboard alone, and a second fall before the next edit loses nothing', async () => {
    const { page, context } = await startEmpty(bench);
    await drawBed(page);
    await page.locator('#sketch').press('.');
    await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('Control+z');
    await crash(page);
    for (let falls = 0; falls < 2; falls += 1) {
      const again = await comeBack(context);
      await recoveredLine(again).waitFor();
      await tabTo(again, 'Corner lot');
      await again.keyboard.press('Enter');
      await again.locator('.plan-name', { hasText: 'Corner lot' }).waitFor();
      await again.keyboard.press('Alt+3');
      await again.getByText('250 ft²').first().waitFor();
      await crash(again);
    }
    await context.close();
  });
});
