import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { emptyPlan, type Plan, plainBed, plainSource, writePlan } from '../../src/core/plan';
import { type Bench, clickAt, giveFile, openLater, setUpBench } from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

/** An acre, 64 x 64 m, laid out in 64 beds of 5 to 7 m with a corner cut off each, and a connection at its edge. */
function acre(): Plan {
  const beds: Plan['beds'] = {};
  for (let number = 0; number < 64; number += 1) {
    const [x, y] = [(number % 8) * 8, Math.floor(number / 8) * 8];
    const [wide, deep] = [5 + (number % 3), 5 + (number % 2)];
    const points = [
      { x, y },
      { x: x + wide, y },
      { x: x + wide, y: y + deep - 2 },
      { x: x + wide - 2, y: y + deep },
      { x, y: y + deep },
    ];
    const edges = points.map(() => ({ class: null, offsetM: null, sagittaM: 0 }));
    const id = `bed-${String(number + 1).padStart(2, '0')}`;
    beds[id] = plainBed(id, [{ points, edges }]);
  }
  const source = {
    ...plainSource('source-1', { x: -2, y: 30 }),
    ...{ staticHeadM: 42, flowTestM3s: 0.002, flowTestHeadM: 35 },
  };
  return { ...emptyPlan('acre', 'metric'), beds, sources: { 'source-1': source } };
}

const inHead = (page: Page, words: string | RegExp) =>
  page.locator('.head .stale').filter({ hasText: words });

describe('an acre of beds', () => {
  it('shows that it is being worked out, lets the hand go on meanwhile, can be stopped, and is taken up again by the next edit', async () => {
    const { page, context, complaints } = await openLater(bench);
    await giveFile(
      page,
      () => page.getByRole('dialog').getByRole('button', { name: /^Open/ }).click(),
      'acre.rillsheet.json',
      Buffer.from(writePlan(acre())),
    );
    const working = inHead(page, /working it out|finishing$|finishing ?Stop/);
    await working.waitFor();
    expect(await working.getByRole('progressbar').count()).toBe(1);
    // While it works, the hand is answered: the view moves and a bed is chosen.
    const view = await page.locator('#sketch').getAttribute('data-view');
    await page.keyboard.press('Alt+3');
    await page.locator('#sketch').focus();
    await page.keyboard.press('+');
    expect(await page.locator('#sketch').getAttribute('data-view')).not.toBe(view);
    await page.keyboard.press('Home');
    await clickAt(page, 26, 26);
    await page.getByRole('heading', { name: 'Ground and plants' }).waitFor();

    await working.getByRole('button', { name: 'Stop' }).click();
    await working.waitFor({ state: 'detached' });
    expect(await page.evaluate(() => document.body.dataset.design)).not.toBe('finished');
    await inHead(page, /^stopped; (nothing is designed yet|figures are a first pass)$/).waitFor();

    // A sheet asked for now has nothing to be drawn from, and that is said.
    await page.keyboard.press('Control+p');
    await page.getByText('There is no finished design to hand over.').waitFor();

    await page.getByLabel('Soil').selectOption('loam');
    await working.waitFor();
    await page.keyboard.press('Alt+7');
    const asPdf = page.getByRole('button', { name: 'Sheet as PDF' });
    await asPdf.waitFor();
    // Taken back with the page already there: however fast the machine, the sheet is asked for while all beds wait.
    await page.keyboard.press('Control+z');
    await asPdf.click();
    const finishing = inHead(page, 'Finishing the design first');
    await finishing.waitFor();
    await finishing.getByRole('button', { name: 'Stop' }).click();
    await finishing.waitFor({ state: 'detached' });
    // Only the sheet was called off: the design goes on.
    await working.waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });
});
