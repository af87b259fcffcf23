import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Bench, setUpBench, type Visit, visit } from './bench';

let bench: Bench;
let desk: Visit;
beforeAll(async () => {
  bench = await setUpBench();
  desk = await visit(bench);
});
afterAll(() => bench.close());

/** Figures on the open page that stand in a section where nothing answers why, each as its section and its words. */
const unexplained = (): Promise<{ shown: number; without: string[] }> =>
  desk.page.evaluate(() => {
    const figures = [...document.querySelectorAll('.figures .figure')].filter((one) => {
      const isHead = one.tagName === 'TH';
      // A count of what is listed beside it explains itself; what was typed stands in an input.
      return !isHead && !one.querySelector('input, select') && /\d/.test(one.textContent ?? '');
    });
    const without = figures.filter((one) => {
      const section = one.closest('section');
      return one.closest('.why') === null && !section?.querySelector('.why');
    });
    return {
      shown: figures.length,
      without: without.map(
        (one) => `${one.closest('section')?.querySelector('h2')?.textContent}: ${one.textContent}`,
      ),
    };
  });

describe('a number on the desk', () => {
  it('answers why on every page, with and without a bed chosen', async () => {
    const { page } = desk;
    let shown = 0;
    for (const isChosen of [false, true]) {
      if (isChosen) {
        await page.keyboard.press('Alt+3');
        await page.getByRole('button', { name: 'House strip' }).first().click();
      }
      for (let step = 1; step <= 7; step++) {
        await page.keyboard.press(`Alt+${step}`);
        const found = await unexplained();
        shown += found.shown;
        expect({ step, without: found.without }).toEqual({ step, without: [] });
      }
    }
    expect(shown).toBeGreaterThan(60);
  });

  it('says how it comes about and on what that rests, by keyboard alone', async () => {
    const { page } = desk;
    await page.keyboard.press('Alt+5');
    const why = page
      .locator('section', { has: page.getByRole('heading', { name: 'Runs' }) })
      .locator('.why summary');
    await why.focus();
    await page.keyboard.press('Enter');
    const words = (await page.locator('.why[open]').textContent()) ?? '';
    expect(words).toMatch(/lowest Pressure at the emitter that gets the least/);
    expect(words).toMatch(/Todini and Pilati/);
    expect(desk.complaints).toEqual([]);
  });
});
