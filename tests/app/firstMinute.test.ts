import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Bench, onScreen, openLater, settled, setUpBench, startEmpty, tubingFt, visit } from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

/** The demonstration's strip beside the house, and one of its corners, read from the shipped plan itself. */
const demonstration = JSON.parse(
  readFileSync(new URL('../../assets/demonstration.rillsheet.json', import.meta.url), 'utf8'),
) as { beds: Record<string, { id: string; name: string; rings: { points: { x: number; y: number }[] }[] }> };
const strip = Object.values(demonstration.beds).find((bed) => bed.name === 'House strip')!;
const corner = strip.rings[0]!.points.reduce((far, point) => (point.x < far.x ? point : far));

describe('the first minute, by mouse', () => {
  it('a corner dragged changes the length of the tubing, and undo brings the very figure back', async () => {
    const { page, context, complaints } = await visit(bench);
    await page.getByRole('button', { name: /^Tubing/ }).click();
    const before = await tubingFt(page, strip.id);
    const inside = await onScreen(
      page,
      corner.x + 2,
      strip.rings[0]!.points.reduce((sum, p) => sum + p.y, 0) / strip.rings[0]!.points.length,
    );
    await page.mouse.click(inside.x, inside.y);
    const from = await onScreen(page, corner.x, corner.y);
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(from.x + 30, from.y, { steps: 4 });
    await page.mouse.move(from.x + 60, from.y, { steps: 4 });
    await page.mouse.up();
    await settled(page);
    expect(await tubingFt(page, strip.id)).not.toBe(before);
    await page.keyboard.press('Control+z');
    await settled(page);
    expect(await tubingFt(page, strip.id)).toBe(before);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it("a bed of 12'-6\" x 20' is drawn by writing its size, saved, and opened again", async () => {
    const { page, context, asked, complaints } = await startEmpty(bench);
    await page.getByRole('button', { name: /^Beds/ }).click();
    await page.getByRole('button', { name: 'Rectangle', exact: true }).click();
    const sketch = (await page.locator('#sketch').boundingBox())!;
    await page.mouse.click(sketch.x + 300, sketch.y + 500);
    await page.keyboard.type("12'6 x 20'");
    await page.keyboard.press('Enter');
    // 12.5 ft x 20 ft = 250 ft2, by hand
    await page.getByText('250 ft²').first().waitFor();
    await settled(page);
    const saved = page.waitForEvent('download');
    await page.keyboard.press('Control+s');
    const file = await (await saved).path();
    const plan = JSON.parse(readFileSync(file, 'utf8'));
    const [bed] = Object.values(plan.beds) as { rings: { points: { x: number; y: number }[] }[] }[];
    const xs = bed!.rings[0]!.points.map((point) => point.x);
    const ys = bed!.rings[0]!.points.map((point) => point.y);
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(12.5 * 0.3048, 9);
    expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(20 * 0.3048, 9);
    await page.locator('.kept', { hasText: /^saved / }).waitFor();
    const chooser = page.waitForEvent('filechooser');
    await page.keyboard.press('Control+o');
    await (await chooser).setFiles({
      name: 'garden.rillsheet.json',
      mimeType: 'application/json',
      buffer: readFileSync(file),
    });
    await page.getByText('250 ft²').first().waitFor();
    expect(
      asked.filter(
        (url) => !url.startsWith(bench.address) && !url.startsWith('blob:') && !url.startsWith('data:'),
      ),
    ).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('the sheet on the page is the drawing that becomes the PDF', async () => {
    const { page, context } = await visit(bench);
    await page.getByRole('button', { name: /^Sheet/ }).click();
    await page.getByRole('img', { name: /^Page 1/ }).waitFor();
    const saved = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Sheet as PDF' }).click();
    const file = await (await saved).path();
    expect(readFileSync(file).subarray(0, 5).toString()).toBe('%PDF-');
    await context.close();
  });
});

describe('the first minute, by keyboard alone', () => {
  it('a bed is drawn, moved by a corner, taken back and saved without a pointer', async () => {
    const { page, context } = await openLater(bench);
    await page.getByRole('dialog', { name: 'Start' }).waitFor();
    await page.keyboard.press('Escape');
    await page.keyboard.press('F3');
    await page.keyboard.type('new plan');
    await page.keyboard.press('Enter');
    await page.getByRole('dialog', { name: 'New plan' }).waitFor();
    await page.keyboard.press('Escape');
    await page.keyboard.press('Alt+3');
    await page.keyboard.press('1');
    await page.keyboard.type('E 0 N 0');
    await page.keyboard.press('Enter');
    await page.keyboard.type("12'6 x 20'");
    await page.keyboard.press('Enter');
    await page.keyboard.press('Escape');
    await page.getByText('250 ft²').first().waitFor();
    await settled(page);
    await page.keyboard.press('Alt+4');
    const before = await tubingFt(page, 'bed-1');
    expect(before).toBeGreaterThan(100);
    await page.keyboard.press('F6');
    await page.keyboard.press('>');
    await page.keyboard.press('Shift+ArrowLeft');
    await settled(page);
    expect(await tubingFt(page, 'bed-1')).not.toBe(before);
    await page.keyboard.press('Control+z');
    await settled(page);
    expect(await tubingFt(page, 'bed-1')).toBe(before);
    const saved = page.waitForEvent('download');
    await page.keyboard.press('Control+s');
    expect((await saved).suggestedFilename()).toBe('Plan.rillsheet.json');
    await context.close();
  });

  it('an entry that cannot be read says why and places nothing', async () => {
    const { page, context } = await startEmpty(bench);
    await page.keyboard.press('Alt+3');
    await page.keyboard.press('1');
    await page.keyboard.type('E 0 N 0');
    await page.keyboard.press('Enter');
    await page.keyboard.type("12'13 x 20'");
    await page.keyboard.press('Enter');
    await page.locator('.rule-echo.is-refused').waitFor();
    expect(await page.getByText('draw', { exact: false }).filter({ hasText: 'Undo: draw' }).count()).toBe(0);
    await context.close();
  });
});
