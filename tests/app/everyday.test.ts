import { readFileSync } from 'node:fs';
import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  act,
  type Bench,
  giveFile,
  onScreen,
  printedSheet,
  saveText,
  settled,
  setUpBench,
  typeOnRule,
  visit,
  watchPrinter,
} from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

interface DrawnBed {
  readonly id: string;
  readonly name: string;
  readonly rings: readonly { readonly points: readonly { readonly x: number; readonly y: number }[] }[];
}

/** The demonstration's strip beside the house, and one of its corners, read from the shipped plan itself. */
const demonstration = JSON.parse(
  readFileSync(new URL('../../assets/demonstration.rillsheet.json', import.meta.url), 'utf8'),
) as { readonly beds: Readonly<Record<string, DrawnBed>> };
const strip = Object.values(demonstration.beds).find((bed) => bed.name === 'House strip')!;
const corners = strip.rings[0]!.points;
const corner = corners.reduce((far, point) => (point.x < far.x ? point : far));
const middleY = corners.reduce((sum, point) => sum + point.y, 0) / corners.length;

const FOOT = 0.3048;

/** Length and lowest pressure of the strip, as the Zones page prints them. */
async function figures(page: Page): Promise<{ length: string; pressure: string }> {
  const read = async (role: string): Promise<string> =>
    (await page.locator(`[data-role="${role}-${strip.id}"]`).first().textContent()) ?? '';
  return { length: await read('tubing'), pressure: await read('lowest') };
}

/** The saved plan has one bed more than the demonstration, and it is 12'-6" by 20'. */
function expectNewBed(text: Buffer): void {
  const { beds } = JSON.parse(text.toString()) as { beds: Record<string, DrawnBed> };
  const fresh = Object.values(beds).filter((bed) => !Object.hasOwn(demonstration.beds, bed.id));
  expect(fresh).toHaveLength(1);
  const points = fresh[0]!.rings[0]!.points;
  const span = (values: readonly number[]): number => (Math.max(...values) - Math.min(...values)) / FOOT;
  expect(span(points.map((point) => point.x))).toBeCloseTo(12.5, 9);
  expect(span(points.map((point) => point.y))).toBeCloseTo(20, 9);
}

const isPdf = (bytes: Buffer): boolean => bytes.subarray(0, 5).toString() === '%PDF-';

describe('a first day: drag a corner, undo, draw a bed by its size, print, save, open again', () => {
  it('by mouse', async () => {
    const { page, context, asked, complaints } = await visit(bench, { prepare: watchPrinter });
    const before = await figures(page);
    const inside = await onScreen(page, corner.x + 2, middleY);
    await page.mouse.click(inside.x, inside.y);
    const from = await onScreen(page, corner.x, corner.y);
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(from.x + 80, from.y, { steps: 4 });
    await page.mouse.move(from.x + 160, from.y, { steps: 4 });
    // The hand still holds the corner: the length follows it.
    await expect.poll(async () => (await figures(page)).length, { timeout: 120_000 }).not.toBe(before.length);
    await page.mouse.up();
    await settled(page);
    const dragged = await figures(page);
    expect(dragged.length).not.toBe(before.length);
    expect(dragged.pressure).not.toBe(before.pressure);
    await page.getByRole('button', { name: /^Undo: / }).click();
    await settled(page);
    expect(await figures(page)).toEqual(before);

    await page.getByRole('button', { name: /^Beds/ }).click();
    await page.getByRole('button', { name: 'Rectangle', exact: true }).click();
    const sketch = (await page.locator('#sketch').boundingBox())!;
    await page.mouse.click(sketch.x + 40, sketch.y + sketch.height - 200);
    await typeOnRule(page, "12'6 x 20'");
    await page.keyboard.press('Escape');
    // 12.5 ft x 20 ft = 250 ft2, by hand
    await page.getByText('250 ft²').first().waitFor();
    await page.getByRole('button', { name: /^Sheet/ }).click();
    const printed = await printedSheet(page, () =>
      page.getByRole('button', { name: 'Print the sheet' }).click(),
    );
    expect(isPdf(printed)).toBe(true);

    const saved = page.waitForEvent('download');
    await page.locator('.plan-name').click();
    await page.getByRole('button', { name: /^Save Ctrl S/ }).click();
    const text = readFileSync(await (await saved).path());
    expectNewBed(text);
    await page.locator('.kept', { hasText: /^saved / }).waitFor();
    const open = async (): Promise<void> => {
      await page.locator('.plan-name').click();
      await page.getByRole('button', { name: /^Open a plan/ }).click();
    };
    await giveFile(page, open, 'garden.rillsheet.json', text);
    await page.getByRole('row', { name: /250 ft²/ }).waitFor();
    expect((await saveText(page)).equals(text)).toBe(true);
    const elsewhere = asked.filter((url) => /^(https?|wss?):/.test(url) && !url.startsWith(bench.address));
    expect(elsewhere).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('by keyboard alone', async () => {
    const { page, context, complaints } = await visit(bench, { prepare: watchPrinter });
    const before = await figures(page);
    await page.keyboard.press('F6');
    await page.keyboard.press('.');
    const isStripChosen = (): Promise<boolean> =>
      page
        .locator('tr.is-chosen')
        .filter({ has: page.locator(`[data-role="tubing-${strip.id}"]`) })
        .count()
        .then((count) => count === 1);
    for (let steps = 0; steps < 20 && !(await isStripChosen()); steps += 1) await page.keyboard.press('.');
    await page.keyboard.press('>');
    await page.keyboard.press('Shift+ArrowRight');
    await settled(page);
    const moved = await figures(page);
    expect(moved.length).not.toBe(before.length);
    expect(moved.pressure).not.toBe(before.pressure);
    await page.keyboard.press('Control+z');
    await settled(page);
    expect(await figures(page)).toEqual(before);

    await act(page, 'draw a rectangular bed');
    await typeOnRule(page, "E 0 S 60'", "12'6 x 20'");
    await page.keyboard.press('Escape');
    const printed = await printedSheet(page, () => page.keyboard.press('Control+p'));
    expect(isPdf(printed)).toBe(true);
    const text = await saveText(page);
    expectNewBed(text);
    await giveFile(page, () => page.keyboard.press('Control+o'), 'garden.rillsheet.json', text);
    await page.keyboard.press('Alt+3');
    await page.getByRole('row', { name: /250 ft²/ }).waitFor();
    expect((await saveText(page)).equals(text)).toBe(true);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
