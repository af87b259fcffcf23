import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  act,
  type Bench,
  printedSheet,
  settled,
  setUpBench,
  startEmpty,
  typeOnRule,
  watchPrinter,
} from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

// The browser's own print dialogue cannot be answered by a test: what is handed to it is caught at its door.
describe('printing', () => {
  it('hands the printer the very sheet that the PDF holds, by the act on the page and by the keys of the system', async () => {
    const { page, context, complaints } = await startEmpty(bench, { prepare: watchPrinter });
    await act(page, 'draw a rectangular bed');
    await typeOnRule(page, 'E 0 N 0', "12'6 x 20'");
    await page.keyboard.press('Escape');
    await page.keyboard.press('Alt+7');
    // Asked for before the design is there, it waits for the whole of it: a sheet without its last tables would be another one.
    const saved = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Sheet as PDF' }).click();
    const file = readFileSync(await (await saved).path());
    expect(file.subarray(0, 5).toString()).toBe('%PDF-');
    const byMouse = await printedSheet(page, () =>
      page.getByRole('button', { name: 'Print the sheet' }).click(),
    );
    expect(byMouse.equals(file)).toBe(true);
    await page.keyboard.press('Alt+3');
    const byKeys = await printedSheet(page, () => page.keyboard.press('Control+p'));
    expect(byKeys.equals(file)).toBe(true);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('an edit changes what is printed', async () => {
    const { page, context } = await startEmpty(bench, { prepare: watchPrinter });
    await act(page, 'draw a rectangular bed');
    await typeOnRule(page, 'E 0 N 0', "12'6 x 20'");
    await page.keyboard.press('Escape');
    await settled(page);
    const before = await printedSheet(page, () => page.keyboard.press('Control+p'));
    await page.keyboard.press('Delete');
    await settled(page);
    await page.keyboard.press('Control+z');
    await settled(page);
    const back = await printedSheet(page, () => page.keyboard.press('Control+p'));
    expect(back.equals(before)).toBe(true);
    await page.keyboard.press('.');
    await page.keyboard.press('>');
    await page.keyboard.press('Shift+ArrowLeft');
    await settled(page);
    const after = await printedSheet(page, () => page.keyboard.press('Control+p'));
    expect(after.equals(before)).toBe(false);
    await context.close();
  });
});
