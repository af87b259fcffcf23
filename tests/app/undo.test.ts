import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { act, type Bench, saveText, setUpBench, startEmpty, typeOnRule } from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

const FOOT = 0.3048;

/** A key held on the sketch until it has repeated so often. A driver's own presses take half a minute for a thousand. */
async function hold(page: Page, keys: string, times: number): Promise<void> {
  const [key = '', ...modifiers] = keys.split('+').reverse();
  const how = {
    key,
    ctrlKey: modifiers.includes('Control'),
    shiftKey: modifiers.includes('Shift'),
    ...{ bubbles: true, cancelable: true, repeat: true },
  };
  for (let repeated = 0; repeated < times; repeated += 100)
    await page.evaluate(
      ([event, count]) => {
        const sketch = document.getElementById('sketch');
        for (let press = 0; press < count; press += 1)
          sketch?.dispatchEvent(new KeyboardEvent('keydown', event));
      },
      [how, Math.min(100, times - repeated)] as const,
    );
}

const kept = (page: Page): Promise<string | null> => page.locator('.kept').textContent();
const done = (page: Page) => page.getByRole('button', { name: /^Done \d+$/ });

describe('what was done', () => {
  it('a thousand edits and more are taken back one by one, across a save, and done again; the unsaved mark follows', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await act(page, 'place a tree');
    await typeOnRule(page, 'E 0 N 0', "6'");
    await page.keyboard.press('Escape');
    await page.locator('#sketch').focus();
    const before = await saveText(page);
    expect(await kept(page)).toMatch(/^saved /);

    // The tree is drawn in one edit; then 600 moves east, a save, and 500 moves north.
    await hold(page, 'ArrowRight', 600);
    expect(await kept(page)).toBe('not saved');
    const between = await saveText(page);
    await hold(page, 'ArrowUp', 500);
    const after = await saveText(page);
    expect(await done(page).textContent()).toBe('Done 1101');
    expect(await page.getByRole('button', { name: /^Undo/ }).textContent()).toBe('Undo: move');

    await hold(page, 'Control+z', 500);
    expect((await saveText(page)).equals(between)).toBe(true);
    await hold(page, 'Control+z', 600);
    expect(await page.getByRole('button', { name: /^Undo/ }).textContent()).toBe('Undo: draw');
    expect(await kept(page)).toBe('not saved');
    expect((await saveText(page)).equals(before)).toBe(true);
    await page.keyboard.press('Control+z');
    expect(Object.keys(JSON.parse((await saveText(page)).toString()).trees)).toEqual([]);
    expect(await page.getByRole('button', { name: /^Undo/ }).isDisabled()).toBe(true);

    await hold(page, 'Control+Shift+Z', 1101);
    expect((await saveText(page)).equals(after)).toBe(true);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('is listed by name, and a press brings the plan back to how it stood then, or forth again', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await act(page, 'place a tree');
    await typeOnRule(page, 'E 0 N 0', "6'");
    await page.keyboard.press('Escape');
    await act(page, 'draw a rectangular bed');
    await typeOnRule(page, 'E 20 N 0', "10' x 8'");
    await page.keyboard.press('Escape');
    await page.locator('#sketch').focus();
    await page.keyboard.press('Shift+ArrowRight');
    await done(page).click();
    const lines = page.locator('.menu li');
    expect((await lines.allTextContents()).map((line) => line.replace(/^\d+\s+/, ''))).toEqual([
      'move: Bed A',
      'draw: Bed A',
      'draw: Tree 1',
      'as it was opened',
    ]);
    await lines.getByRole('button', { name: /draw: Tree 1/ }).click();
    const early = JSON.parse((await saveText(page)).toString());
    expect([Object.keys(early.beds), Object.keys(early.trees)]).toEqual([[], ['tree-1']]);
    // By keyboard: the list, then its first line, which is the last edit.
    await done(page).focus();
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    const late = JSON.parse((await saveText(page)).toString());
    expect(Math.min(...late.beds['bed-1'].rings[0].points.map(({ x }: { x: number }) => x))).toBeGreaterThan(
      20 * FOOT,
    );
    expect(complaints).toEqual([]);
    await context.close();
  });
});
