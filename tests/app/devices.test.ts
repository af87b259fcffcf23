import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  act,
  type Bench,
  clickAt,
  onScreen,
  saveText,
  settled,
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

interface Saved {
  readonly valves: Readonly<
    Record<string, { at: { x: number; y: number }; zoneKey: string | null; assemblyId: string | null }>
  >;
  readonly controllers: Readonly<
    Record<string, { stations: number; masterValve: boolean; flowSensor: boolean; weatherSensor: boolean }>
  >;
}
const savedPlan = async (page: Page): Promise<Saved> => JSON.parse((await saveText(page)).toString());

/** A bed of 12 x 9 ft and the connection 20 ft west of it. */
async function oneBed(page: Page): Promise<void> {
  await act(page, 'draw a rectangular bed');
  await typeOnRule(page, 'E 0 N 0', "12' x 9'");
  await act(page, 'place the connection');
  await typeOnRule(page, 'W 20 N 0');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Alt+5');
  await page.locator('#sketch').focus();
  await page.keyboard.press('Escape');
  await page.keyboard.press('Home');
  await settled(page);
}

/** What the regulator of the one zone is set to, as the Zones page says it. */
const setting = (page: Page): Promise<string | null> =>
  page
    .locator('.line', { hasText: /^Zone 1: / })
    .first()
    .textContent();

describe('what stands between the connection and the beds', () => {
  it('by mouse: a valve takes the place that was found, its assembly is chosen, and the zone follows', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await oneBed(page);
    expect(await setting(page)).toContain('25.0 psi');
    await page.getByRole('button', { name: 'Valve assembly', exact: true }).click();
    // The assembly that was found stands east of the connection, before the bed.
    const from = await onScreen(page, -20 * FOOT, 0);
    const to = await onScreen(page, 0, 0);
    const caught = page.locator('.rule-catch');
    let at = from;
    for (
      let x = from.x;
      x < to.x && (await caught.textContent()) !== 'end of the valve assembly of zone 1';
      x += 6
    ) {
      for (const y of [from.y, from.y - 12, from.y + 12]) {
        await page.mouse.move(x, y);
        at = { x, y };
        if ((await caught.textContent()) === 'end of the valve assembly of zone 1') break;
      }
    }
    expect(await caught.textContent()).toBe('end of the valve assembly of zone 1');
    await page.mouse.click(at.x, at.y);
    await page.keyboard.press('Escape');
    await settled(page);
    await page.getByLabel('Assembly').selectOption({ label: '40.0 psi, Valve assembly, low flow' });
    await settled(page);
    const [valve] = Object.values((await savedPlan(page)).valves);
    expect(valve?.assemblyId).toBe('assembly-low-flow-40psi');
    expect(await setting(page)).toContain('40.0 psi');
    expect(await page.getByLabel('Zone', { exact: true }).inputValue()).toBe('');
    await page.getByLabel('Zone', { exact: true }).selectOption({ label: 'Zone 1' });
    expect(Object.values((await savedPlan(page)).valves)[0]?.zoneKey).toBe('zone-1');
    await page.getByLabel('Assembly').selectOption({ index: 0 });
    await settled(page);
    expect(await setting(page)).toContain('25.0 psi');
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('by keyboard alone: a controller’s stations and its devices in the main', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await oneBed(page);
    await page.keyboard.press('Alt+2');
    await act(page, 'place the controller');
    await typeOnRule(page, 'W 24 N 6');
    await settled(page);
    await tabTo(page, 'Stations', 'Shift+Tab');
    await page.keyboard.press('Control+a');
    await page.keyboard.type('12');
    await page.keyboard.press('Enter');
    await tabTo(page, /master valve/);
    await page.keyboard.press('Space');
    await tabTo(page, /flow sensor/);
    await page.keyboard.press('Space');
    await settled(page);
    expect(Object.values((await savedPlan(page)).controllers)).toEqual([
      expect.objectContaining({ stations: 12, masterValve: true, flowSensor: true, weatherSensor: false }),
    ]);
    // A press on it later brings the same fields back.
    await page.locator('#sketch').focus();
    await page.keyboard.press('Escape');
    expect(await page.getByLabel('Stations').count()).toBe(0);
    await page.keyboard.press('Home');
    await clickAt(page, -24 * FOOT, 6 * FOOT);
    expect(await page.getByLabel('Stations').inputValue()).toBe('12');
    expect(complaints).toEqual([]);
    await context.close();
  });
});
