import AxeBuilder from '@axe-core/playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Bench, setUpBench, type Visit, visit } from './bench';

let bench: Bench;
let desk: Visit;
beforeAll(async () => {
  bench = await setUpBench();
  desk = await visit(bench);
});
afterAll(() => bench.close());

const SCREENS = ['Site', 'Water', 'Beds', 'Tubing', 'Zones', 'Review', 'Sheet'] as const;

describe('anyone can work the desk', () => {
  for (const look of ['light', 'dark', 'contrast'] as const) {
    it(`no screen has a serious fault in the ${look} look`, async () => {
      const { page } = desk;
      await page.evaluate((chosen) => {
        document.documentElement.dataset.look = chosen;
      }, look);
      const faults: string[] = [];
      const check = async (screen: string): Promise<void> => {
        const { violations } = await new AxeBuilder({ page }).analyze();
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

  it('every target is at least 24 pixels high or wide enough to press', async () => {
    const { page } = desk;
    for (const screen of SCREENS) {
      await page
        .getByRole('button', { name: new RegExp(`^${screen}`) })
        .first()
        .click();
      const small = await page
        .locator('button:visible, input:visible:not([type=checkbox]), select:visible, summary:visible')
        .evaluateAll((elements) =>
          elements
            .map((element) => ({ text: element.textContent, height: element.getBoundingClientRect().height }))
            .filter((target) => target.height > 0 && target.height < 24)
            .map((target) => target.text),
        );
      expect(small).toEqual([]);
    }
  });
});
