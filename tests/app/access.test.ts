import AxeBuilder from '@axe-core/playwright';
import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  act,
  type Bench,
  openLater,
  settled,
  setUpBench,
  startEmpty,
  typeOnRule,
  type Visit,
  visit,
} from './bench';

let bench: Bench;
let desk: Visit;
beforeAll(async () => {
  bench = await setUpBench();
  desk = await visit(bench);
});
afterAll(() => bench.close());

const SCREENS = ['Site', 'Water', 'Beds', 'Tubing', 'Zones', 'Review', 'Sheet'] as const;

/** The house of the demonstration chosen, one of its corners, or the edge that leaves it, as by keyboard. */
async function chooseHouse(page: Page, part: 'corner' | 'edge'): Promise<void> {
  await page.getByRole('button', { name: /^Site/ }).first().click();
  await page.locator('#contents').click();
  await page.locator('.contents-line', { hasText: 'House, finished floor' }).click();
  await page.locator('#contents').click();
  await page.locator('#sketch').focus();
  await page.keyboard.press('>');
  if (part === 'edge') await page.keyboard.press('Shift+Insert');
  await page
    .getByRole(part === 'edge' ? 'region' : 'textbox', { name: part === 'edge' ? 'Edge' : 'Corner 1, east' })
    .waitFor();
}

/** Nothing is chosen any more. */
async function chooseNothing(page: Page): Promise<void> {
  await page.locator('#sketch').focus();
  for (let times = 0; times < 2; times++) await page.keyboard.press('Escape');
}

describe('anyone can work the desk', () => {
  for (const look of ['light', 'dark', 'contrast'] as const) {
    it(`no screen has a serious fault in the ${look} look`, async () => {
      const { page } = desk;
      await page.evaluate((chosen) => {
        document.documentElement.dataset.look = chosen;
      }, look);
      const faults: string[] = [];
      const check = async (screen: string): Promise<void> => {
        // A look changes colours and nothing else.
        const axe = new AxeBuilder({ page });
        const { violations } = await (look === 'light' ? axe : axe.withRules(['color-contrast'])).analyze();
        for (const fault of violations) {
          if (fault.impact === 'serious' || fault.impact === 'critical')
            faults.push(
              `${screen}: ${fault.id} ${fault.nodes.map((node) => node.target.join(' ')).join('; ')}`,
            );
        }
      };
      for (const screen of SCREENS) {
        await page
          .getByRole('button', { name: new RegExp(`^${screen}`) })
          .first()
          .click();
        await check(screen);
      }
      for (const part of ['corner', 'edge'] as const) {
        await chooseHouse(page, part);
        await check(`a chosen ${part}`);
        await chooseNothing(page);
      }
      await page.keyboard.press('F3');
      await check('actions');
      await page.keyboard.press('Escape');
      await page.keyboard.press('F1');
      await check('help');
      await page.keyboard.press('Escape');
      await page.getByRole('dialog', { name: 'Keys and help' }).waitFor({ state: 'detached' });
      expect(faults).toEqual([]);
    });
  }

  it('every target is at least 24 pixels high and wide', async () => {
    const { page } = desk;
    for (const screen of SCREENS) {
      await page
        .getByRole('button', { name: new RegExp(`^${screen}`) })
        .first()
        .click();
      expect(await smallTargets(page)).toEqual([]);
    }
    for (const part of ['corner', 'edge'] as const) {
      await chooseHouse(page, part);
      expect(await smallTargets(page)).toEqual([]);
      await chooseNothing(page);
    }
  });
});

/** Targets of the page that are narrower or lower than 24 px; a box to tick is pressed by its words too. */
const smallTargets = (page: Page): Promise<string[]> =>
  page
    .locator('button:visible, a[href]:visible, input:visible, select:visible, summary:visible')
    .evaluateAll((elements) =>
      elements.flatMap((element) => {
        const { width, height } = (element.closest('label.check') ?? element).getBoundingClientRect();
        const isSmall = width > 0 && height > 0 && Math.min(width, height) < 23.99;
        return isSmall ? [`${element.textContent} ${Math.round(width)} x ${Math.round(height)}`] : [];
      }),
    );

/** Serious faults that axe finds on what is shown now; in the other looks of its colours alone, for nothing else differs. */
async function faultsOf(page: Page, screen: string): Promise<string[]> {
  const faults: string[] = [];
  for (const look of ['light', 'dark', 'contrast']) {
    await page.evaluate((chosen) => {
      document.documentElement.dataset.look = chosen;
    }, look);
    const axe = new AxeBuilder({ page });
    const { violations } = await (look === 'light' ? axe : axe.withRules(['color-contrast'])).analyze();
    for (const fault of violations)
      if (fault.impact === 'serious' || fault.impact === 'critical')
        faults.push(
          `${screen}, ${look}: ${fault.id} ${fault.nodes.map((node) => node.target.join(' ')).join('; ')}`,
        );
  }
  return [...faults, ...(await smallTargets(page)).map((target) => `${screen}: small target ${target}`)];
}

describe('what comes between the screens', () => {
  it('start page and the leaves of the walk-through have no serious fault and no small target', async () => {
    const { page, context } = await openLater(bench);
    const faults = await faultsOf(page, 'start');
    await page
      .getByRole('dialog', { name: 'Start' })
      .getByRole('button', { name: /^New plan/ })
      .click();
    const walk = page.getByRole('dialog', { name: 'New plan' });
    faults.push(...(await faultsOf(page, 'walk-through, site')));
    await walk.getByRole('button', { name: 'The water' }).click();
    await walk.getByText('Bucket and stopwatch').click();
    faults.push(...(await faultsOf(page, 'walk-through, water')));
    await walk.getByRole('button', { name: 'The first bed' }).click();
    faults.push(...(await faultsOf(page, 'walk-through, bed')));
    expect(faults).toEqual([]);
    await context.close();
  });

  it('drawing, and a chosen bed with an edge of it, have none either', async () => {
    const { page, context } = await startEmpty(bench);
    await act(page, 'trace a bed');
    await typeOnRule(page, 'E 0 N 0', "12' at 0");
    await page.keyboard.type("9'");
    const faults = await faultsOf(page, 'drawing');
    await typeOnRule(page, '', "9' at 90", "12' at 180", '');
    await page.keyboard.press('Escape');
    await page.keyboard.press('Alt+3');
    await page.locator('#sketch').focus();
    for (const key of ['>', 'Shift+Insert']) await page.keyboard.press(key);
    await page.getByRole('region', { name: 'Edge' }).waitFor();
    await settled(page);
    await page.getByText('Contents of the plan').click();
    faults.push(...(await faultsOf(page, 'edge')));
    expect(faults).toEqual([]);
    await context.close();
  });

  it('the menus of the head, a finding on the sketch and the question of unsaved work have none', async () => {
    const { page, context } = await startEmpty(bench);
    await act(page, 'draw a rectangular bed');
    await typeOnRule(page, 'E 0 N 0', "12' x 9'");
    await page.keyboard.press('Escape');
    await settled(page);
    await page.locator('.plan-name').click();
    const faults = await faultsOf(page, 'plan menu');
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: /^Done/ }).click();
    faults.push(...(await faultsOf(page, 'done')));
    await page.keyboard.press('Escape');
    await page.keyboard.press('F8');
    await page.getByRole('region', { name: 'Finding' }).waitFor();
    faults.push(...(await faultsOf(page, 'finding')));
    await act(page, 'new plan');
    await page.getByRole('dialog', { name: 'Unsaved work' }).waitFor();
    faults.push(...(await faultsOf(page, 'unsaved work')));
    expect(faults).toEqual([]);
    await context.close();
  });
});

describe('who asked their system for less movement', () => {
  it('sees nothing move by itself on any step, and a still sign of work in place of a running one', async () => {
    const { page, context } = await startEmpty(bench);
    await page.emulateMedia({ reducedMotion: 'reduce' });
    const appearance = await page.evaluate(() => {
      const sign = document.createElement('span');
      sign.className = 'stale';
      sign.append(document.createElement('progress'));
      document.body.append(sign);
      const style = getComputedStyle(sign.firstElementChild ?? sign).appearance;
      sign.remove();
      return style;
    });
    expect(appearance).toBe('none');
    for (let step = 1; step <= 7; step += 1) {
      await page.keyboard.press(`Alt+${step}`);
      const moving = await page.evaluate(
        () =>
          document.getAnimations().length +
          [...document.querySelectorAll('*')].filter((element) => {
            const { transitionDuration, animationName, scrollBehavior } = getComputedStyle(element);
            return transitionDuration !== '0s' || animationName !== 'none' || scrollBehavior === 'smooth';
          }).length,
      );
      expect({ step, moving }).toEqual({ step, moving: 0 });
    }
    await context.close();
  });
});
