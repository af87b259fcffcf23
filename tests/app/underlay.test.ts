import { readFileSync } from 'node:fs';
import { jsPDF } from 'jspdf';
import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Bench, onScreen, setUpBench, startEmpty } from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

/** Two pages of 200 x 100 mm; the second has a line of 100 mm across its middle. */
function sitePdf(): Buffer {
  const pdf = new jsPDF({ unit: 'mm', format: [200, 100], orientation: 'landscape' });
  pdf.text('cover', 20, 20);
  pdf.addPage([200, 100], 'landscape');
  pdf.line(50, 50, 150, 50);
  return Buffer.from(pdf.output('arraybuffer'));
}

async function bringIn(page: Page, action: string, name: string, buffer: Buffer): Promise<void> {
  const chooser = page.waitForEvent('filechooser');
  await page.keyboard.press('F3');
  await page.keyboard.type(action);
  await page.keyboard.press('Enter');
  await (await chooser).setFiles({ name, mimeType: 'application/octet-stream', buffer });
}

async function savedPlan(page: Page) {
  const saved = page.waitForEvent('download');
  await page.keyboard.press('Control+s');
  return JSON.parse(readFileSync(await (await saved).path(), 'utf8'));
}

describe('what lies under the plan', () => {
  it('a page of a PDF with a printed scale of 1 to 100 lies at its true size, and two points set it anew', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await bringIn(page, 'picture', 'site.pdf', sitePdf());
    const question = page.getByRole('dialog', { name: 'Page of the PDF' });
    await question.getByLabel('Page, of 2').fill('2');
    await question.getByLabel('Printed scale, 1 to').fill('100');
    await question.getByRole('button', { name: 'Lay it under the plan' }).click();
    await page.getByText('Scale: measure between two points').waitFor();
    const [before] = Object.values((await savedPlan(page)).underlays) as { [key: string]: number }[];
    // 200 mm of paper at 1 to 100 is 20 m; a pixel is 1/200 in, so rounding to whole pixels is within 2 cm
    expect(before!.widthPx! * before!.metresPerPixel!).toBeCloseTo(20, 1);
    expect(before!.heightPx! * before!.metresPerPixel!).toBeCloseTo(10, 1);
    // the line of 100 mm runs from a quarter to three quarters of the page, half way up
    const left = { x: before!.originX! + 5, y: before!.originY! + 5 };
    await page.locator('.scale-steps').getByRole('button', { name: 'Measure' }).click();
    for (const x of [left.x, left.x + 10]) {
      const at = await onScreen(page, x, left.y);
      await page.mouse.click(at.x, at.y);
    }
    await page.getByLabel('Really apart').fill('12 m');
    await page.getByLabel('Really apart').press('Enter');
    await page.getByText('Scale set.').waitFor();
    const [after] = Object.values((await savedPlan(page)).underlays) as { [key: string]: number }[];
    // a hand on the screen is true to about two pixels in a line of some hundreds
    expect(after!.metresPerPixel! / before!.metresPerPixel!).toBeCloseTo(1.2, 1);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('a page that lies under the plan is seen there', async () => {
    const { page, context } = await startEmpty(bench);
    const pdf = new jsPDF({ unit: 'mm', format: [200, 100], orientation: 'landscape' });
    pdf.rect(0, 0, 200, 100, 'F');
    await bringIn(page, 'picture', 'site.pdf', Buffer.from(pdf.output('arraybuffer')));
    await page.getByRole('button', { name: 'Lay it under the plan' }).click();
    await page.getByText('Scale: measure between two points').waitFor();
    // a black page, two fifths faded, over the middle of the sketch: darker than any paper
    await page.waitForFunction(() =>
      [...document.querySelectorAll<HTMLCanvasElement>('#sketch canvas')].some((canvas) => {
        const at = [canvas.width / 2, canvas.height / 2].map(Math.round) as [number, number];
        const [red = 0, , , alpha = 0] = canvas.getContext('2d')?.getImageData(...at, 1, 1).data ?? [];
        return alpha > 100 && red < 130;
      }),
    );
    await context.close();
  });

  it('a page of an absurd size is refused with its reason and what to do, and the desk goes on', async () => {
    const { page, context } = await startEmpty(bench);
    const vast = sitePdf()
      .toString('latin1')
      .replaceAll(/MediaBox \[[^\]]*\]/g, 'MediaBox [0 0 9999999 9999999]');
    await bringIn(page, 'picture', 'vast.pdf', Buffer.from(vast, 'latin1'));
    await page.getByRole('button', { name: 'Lay it under the plan' }).click();
    await page.getByText(/^The page says it is .* No paper is longer than/).waitFor();
    await page.getByText('Print the page on a paper size').waitFor();
    expect(Object.keys((await savedPlan(page)).underlays)).toEqual([]);
    await context.close();
  });

  it('a drawing program in place of a picture, inside a plan, is not shown, and that is said', async () => {
    const { page, context, complaints, asked } = await startEmpty(bench);
    const plan = await savedPlan(page);
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"><image href="http://192.0.2.1/a.png"/></svg>';
    const dataUri = `data:image/svg+xml;base64,${Buffer.from(svg).toString('base64')}`;
    const underlay = {
      ...{ id: 'u1', name: 'site', kind: 'picture', dataUri, lines: [], originX: 0, originY: 0 },
      ...{ metresPerPixel: 1, turnRad: 0, fadeRatio: 0, locked: true, widthPx: 9, heightPx: 9 },
    };
    const chooser = page.waitForEvent('filechooser');
    await page.keyboard.press('Control+o');
    await (await chooser).setFiles({
      name: 'from-a-stranger.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify({ ...plan, underlays: { u1: underlay } })),
    });
    await page.getByText('site is not shown. This is no picture.').waitFor();
    expect(asked.filter((url) => url.includes('192.0.2.1'))).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('a file that is no PDF inside is refused with a reason, and nothing is put on the plan', async () => {
    const { page, context } = await startEmpty(bench);
    await bringIn(page, 'picture', 'broken.pdf', Buffer.from('%PDF-1.7\nnothing of the kind'));
    await page.getByText('The PDF cannot be read.').waitFor();
    expect(Object.keys((await savedPlan(page)).underlays)).toEqual([]);
    await context.close();
  });
});

describe('what another program drew', () => {
  it('a DXF without a unit asks for it, shows the size it would have, and places what its layers are said to be', async () => {
    const dxf = [
      ...['0', 'SECTION', '2', 'ENTITIES', '0', 'LWPOLYLINE', '8', 'AREA 1', '90', '4', '70', '1'],
      ...['10', '0', '20', '0', '10', '30', '20', '0', '10', '30', '20', '20', '10', '0', '20', '20'],
      ...['0', 'ENDSEC', '0', 'EOF'],
    ].join('\n');
    const { page, context } = await startEmpty(bench);
    await bringIn(page, 'bring in geojson', 'survey.dxf', Buffer.from(dxf));
    const question = page.getByRole('dialog', { name: 'What the drawing holds' });
    await question.getByText('The file does not say its unit').waitFor();
    await question.getByLabel('One unit of it is').selectOption('ft');
    // 30 x 20 units taken as feet
    await question.getByText('30\'-0" by 20\'-0"').waitFor();
    await question.getByLabel('AREA 1 (1)').selectOption('bed');
    await question.getByRole('button', { name: 'Put it on the plan' }).click();
    const [bed] = Object.values((await savedPlan(page)).beds) as { rings: { points: { x: number }[] }[] }[];
    const xs = bed!.rings[0]!.points.map((point) => point.x);
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(30 * 0.3048, 6);
    await context.close();
  });
});
