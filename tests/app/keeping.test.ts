import { readFileSync } from 'node:fs';
import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { act, type Bench, saveText, settled, setUpBench, startEmpty, typeOnRule } from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

const FOOT = 0.3048;

interface Place {
  readonly x: number;
  readonly y: number;
}
interface Saved {
  readonly lockedPipes: Readonly<Record<string, { readonly path: readonly Place[] }>>;
  readonly beds: Readonly<
    Record<
      string,
      {
        readonly lockedRoute: readonly { readonly path: readonly Place[] }[] | null;
        readonly rings: readonly { readonly points: readonly Place[] }[];
      }
    >
  >;
}
const savedPlan = async (page: Page): Promise<Saved> => JSON.parse((await saveText(page)).toString());

/** Where the header runs that the desk's design has found. */
async function foundPath(page: Page): Promise<readonly (readonly [number, number])[]> {
  await settled(page);
  const written = page.waitForEvent('download');
  await act(page, 'design as json');
  const design = JSON.parse(readFileSync(await (await written).path(), 'utf8'));
  return design.zones[0].pipes[0].path;
}

/** Two beds east of the water. */
async function twoBeds(page: Page): Promise<void> {
  await act(page, 'draw a rectangular bed');
  await typeOnRule(page, 'E 20 N 0', "12' x 8'", 'E 20 N 16', "12' x 8'");
  await act(page, 'place the connection');
  await typeOnRule(page, 'E 0 N 0');
  await page.keyboard.press('Escape');
}
/** Moves what is chosen and presses an act in the same breath: no design can come between. */
const moveAndPress = (page: Page, name: string): Promise<void> =>
  page.evaluate((word) => {
    const sketch = document.getElementById('sketch');
    for (let press = 0; press < 6; press += 1)
      sketch?.dispatchEvent(
        new KeyboardEvent('keydown', { key: 'ArrowRight', shiftKey: true, bubbles: true, cancelable: true }),
      );
    const button = [...document.querySelectorAll('.acts button')].find((one) => one.textContent === word);
    (button as HTMLButtonElement).click();
  }, name);

describe('what is kept of the design right after an edit', () => {
  it('is what fits the plan as it is: headers are waited for', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await twoBeds(page);
    await page.keyboard.press('Alt+5');
    const before = await foundPath(page);
    await page.locator('#sketch').focus();
    await page.keyboard.press('Control+a');
    await moveAndPress(page, 'Keep headers');
    await page.getByRole('button', { name: 'Undo: keep headers' }).waitFor();
    const kept = Object.values((await savedPlan(page)).lockedPipes).map(({ path }) => path);
    await act(page, 'let the headers be found again');
    const found = await foundPath(page);
    expect(found[0]?.[0]).toBeGreaterThan((before[0]?.[0] ?? 0) + FOOT);
    expect(kept.flatMap((path) => path.map(({ x }) => x))).toContainEqual(
      expect.closeTo(found[0]?.[0] ?? 0, 3),
    );
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('is what fits the plan as it is: routes are waited for, those of several beds kept and freed in one step each', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await twoBeds(page);
    await page.keyboard.press('Alt+4');
    await settled(page);
    await page.locator('#sketch').focus();
    await page.keyboard.press('Control+a');
    await moveAndPress(page, 'Lock the route');
    await page.getByRole('button', { name: 'Undo: lock the route' }).waitFor();
    const beds = Object.values((await savedPlan(page)).beds);
    const eastOf = (points: readonly Place[]): readonly number[] => points.map(({ x }) => x);
    for (const { lockedRoute, rings } of beds) {
      const outline = eastOf(rings[0]?.points ?? []);
      const tubing = eastOf((lockedRoute ?? []).flatMap(({ path }) => path));
      expect(tubing.length).toBeGreaterThan(4);
      expect(Math.min(...tubing)).toBeGreaterThan(Math.min(...outline));
      expect(Math.max(...tubing)).toBeLessThan(Math.max(...outline));
      expect(Math.max(...outline)).toBeGreaterThan(33 * FOOT);
    }
    await page.getByRole('button', { name: 'Free the route' }).click();
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Control+z');
    const [early] = Object.values((await savedPlan(page)).beds);
    expect(early?.lockedRoute).toBeNull();
    expect(await page.getByRole('button', { name: 'Undo: move' }).count()).toBe(1);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
