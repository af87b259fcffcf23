import { mkdirSync, readFileSync } from 'node:fs';
import { jsPDF } from 'jspdf';
import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Bench, onScreen, openLater, settled, setUpBench, startEmpty, tubingFt } from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

/** A folder for pictures to look at, where one is asked for. */
const PICTURES = process.env.RILLSHEET_PICTURES;

async function picture(page: Page, name: string): Promise<void> {
  if (PICTURES === undefined) return;
  mkdirSync(PICTURES, { recursive: true });
  await page.screenshot({ path: `${PICTURES}/${name}.png` });
}

/** A site plan of 300 x 200 mm with a bar of 100 mm. */
function sitePlan(): Buffer {
  const pdf = new jsPDF({ unit: 'mm', format: [300, 200], orientation: 'landscape' });
  pdf.line(50, 100, 150, 100);
  return Buffer.from(pdf.output('arraybuffer'));
}

async function clickAt(page: Page, x: number, y: number): Promise<void> {
  const at = await onScreen(page, x, y);
  await page.mouse.click(at.x, at.y);
}

async function typeOnRule(page: Page, ...entries: string[]): Promise<void> {
  for (const entry of entries) {
    await page.keyboard.type(entry);
    await page.keyboard.press('Enter');
  }
}

interface Saved {
  readonly beds: Record<
    string,
    { rings: { points: { x: number; y: number }[]; edges: { sagittaM: number }[] }[]; lockedRoute: unknown }
  >;
  readonly trees: Record<string, unknown>;
  readonly structures: Record<string, { kind: string; shape: { kind: string } }>;
  readonly sources: Record<string, { staticHeadM: number }>;
  readonly underlays: Record<string, { metresPerPixel: number; widthPx: number }>;
}

async function save(page: Page): Promise<{ text: Buffer; plan: Saved }> {
  const saved = page.waitForEvent('download');
  await page.keyboard.press('Control+s');
  const text = readFileSync(await (await saved).path());
  await page.locator('.kept', { hasText: /^saved / }).waitFor();
  return { text, plan: JSON.parse(text.toString()) };
}

const FOOT = 0.3048;

/** What both journeys must have drawn: an L of 20' x 14' less 8' x 6', one edge an arc of 1'-6", a house, a tree, a walk. */
function expectDrawn(plan: Saved): void {
  const [bed] = Object.values(plan.beds);
  const { points, edges } = bed!.rings[0]!;
  expect(points).toHaveLength(6);
  const xs = points.map((point) => point.x / FOOT);
  const ys = points.map((point) => point.y / FOOT);
  expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(20, 6);
  expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(14, 6);
  expect(edges.map((edge) => Math.abs(edge.sagittaM / FOOT)).filter((height) => height > 0)).toEqual([
    expect.closeTo(1.5, 6),
  ]);
  const kinds = Object.values(plan.structures).map((one) => `${one.kind} ${one.shape.kind}`);
  expect(kinds.sort()).toEqual(['building area', 'paving line']);
  expect(Object.keys(plan.trees)).toHaveLength(1);
  // 60 psi over water of 998 kg/m3 and more is 42.2 to 42.3 m of head; by hand from 1 psi = 6894.76 Pa
  expect(Object.values(plan.sources)[0]!.staticHeadM).toBeCloseTo(42.2, 0);
}

async function printSheet(page: Page): Promise<void> {
  await settled(page);
  await page.getByRole('img', { name: /^Page 1/ }).waitFor();
  const printed = page.waitForEvent('download');
  await page.keyboard.press('F3');
  await page.keyboard.type('sheet as pdf');
  await page.keyboard.press('Enter');
  expect(
    readFileSync(await (await printed).path())
      .subarray(0, 5)
      .toString(),
  ).toBe('%PDF-');
}

async function reopen(page: Page, text: Buffer): Promise<void> {
  const chooser = page.waitForEvent('filechooser');
  await page.keyboard.press('Control+o');
  await (await chooser).setFiles({ name: 'lot.rillsheet.json', mimeType: 'application/json', buffer: text });
  await page.locator('.plan-name', { hasText: 'Corner lot' }).waitFor();
}

describe('from an empty sheet to a printed one', () => {
  it('laid tubing is pulled aside by hand and stays so, checked all the same', async () => {
    const { page, context } = await startEmpty(bench);
    await page.keyboard.press('Alt+3');
    await page.keyboard.press('1');
    await typeOnRule(page, 'E 0 N 0', "12' x 9'");
    await page.keyboard.press('Escape');
    await settled(page);
    await page.keyboard.press('Alt+4');
    const before = await tubingFt(page, 'bed-1');
    await page.getByRole('button', { name: 'Pull tubing' }).click();
    // The first lap keeps 3 in off an open edge, so its west side lies 3 in from the west edge, half way up it.
    await clickAt(page, 0.25 * FOOT, 4.5 * FOOT);
    await page.locator('#sketch').press('4');
    await page.keyboard.type(' in at 0');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Escape');
    await page.getByText('route locked by hand').waitFor();
    await settled(page);
    expect(await tubingFt(page, 'bed-1')).not.toBe(before);
    await picture(page, 'pulled');
    await page.keyboard.press('Control+z');
    await settled(page);
    expect(await tubingFt(page, 'bed-1')).toBe(before);
    await context.close();
  });

  it('by mouse, over an underlay set to scale', async () => {
    const { page, context, complaints } = await openLater(bench);
    await picture(page, 'mouse-01-start');
    await page
      .getByRole('dialog', { name: 'Start' })
      .getByRole('button', { name: /^New plan/ })
      .click();
    const walk = page.getByRole('dialog', { name: 'New plan' });
    await walk.getByLabel('Title').fill('Corner lot');
    await walk.getByLabel('Soil').selectOption('loam');
    await picture(page, 'mouse-02-walk-through-site');
    await walk.getByRole('button', { name: 'The water' }).click();
    await walk.getByLabel('Pressure, nothing running').fill('60');
    await walk.getByLabel('Flow drawn').fill('10');
    await walk.getByLabel('Pressure meanwhile').fill('50');
    await picture(page, 'mouse-03-walk-through-water');
    await walk.getByRole('button', { name: 'The first bed' }).click();
    await walk.getByRole('button', { name: 'Trace it instead' }).click();

    await page.getByRole('button', { name: /^Site/ }).click();
    const chooser = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Underlay', exact: true }).click();
    await (await chooser).setFiles({ name: 'lot.pdf', mimeType: 'application/pdf', buffer: sitePlan() });
    await page.getByRole('button', { name: 'Lay it under the plan' }).click();
    await page.locator('.scale-steps').getByRole('button', { name: 'Measure' }).click();
    const before = Object.values((await save(page)).plan.underlays)[0] as unknown as Record<string, number>;
    const wideM = before.widthPx! * before.metresPerPixel!;
    const highM = before.heightPx! * before.metresPerPixel!;
    for (const share of [50 / 300, 150 / 300]) {
      await clickAt(page, before.originX! + share * wideM, before.originY! + 0.5 * highM);
    }
    await page.getByLabel('Really apart').fill("40'");
    await page.getByLabel('Really apart').press('Enter');
    await page.getByText('Scale set.').waitFor();
    await picture(page, 'mouse-04-underlay');
    await page.keyboard.press('Escape');

    await page.getByRole('button', { name: 'Building', exact: true }).click();
    await typeOnRule(page, 'E 0 N 14', "20' at 0", "10' at 90", "20' at 180");
    await page.getByRole('button', { name: 'Close', exact: true }).click();
    await page.getByRole('button', { name: 'Walk', exact: true }).click();
    await typeOnRule(page, 'E 0 S 5', 'E 20 S 5');
    await page.locator('#sketch').press('Enter');
    await page.getByRole('button', { name: 'Tree', exact: true }).click();
    await typeOnRule(page, 'E 30 N 5', "6'");
    await page.locator('#sketch').press('Escape');
    await page.keyboard.press('Home');
    await picture(page, 'mouse-05-site');

    await page.getByRole('button', { name: /^Beds/ }).click();
    await page.getByRole('button', { name: 'Outline', exact: true }).click();
    await typeOnRule(page, 'E 0 N 0', "12' at 0");
    await page.getByRole('button', { name: 'Arc', exact: true }).click();
    await typeOnRule(page, 'E 12 N 6', "1'6");
    await page.getByRole('button', { name: 'Straight', exact: true }).click();
    await typeOnRule(page, "8' at 0", "8' at 90", "20' at 180");
    await picture(page, 'mouse-06-tracing');
    await page.getByRole('button', { name: 'Close', exact: true }).click();
    await page.locator('#sketch').press('Escape');
    await settled(page);
    await picture(page, 'mouse-07-bed');

    await page.getByRole('button', { name: /^Water/ }).click();
    await picture(page, 'mouse-08-water');
    await page.getByRole('button', { name: /^Tubing/ }).click();
    await page.getByRole('button', { name: 'Lock the route' }).click();
    await settled(page);
    await picture(page, 'mouse-09-tubing');
    await page.getByRole('button', { name: /^Zones/ }).click();
    await picture(page, 'mouse-10-zones');
    await page.getByRole('button', { name: /^Review/ }).click();
    await page.getByRole('button', { name: /No backflow preventer/ }).click();
    await picture(page, 'mouse-11-review');
    const mend = page.locator('.finding-slip .mend').first();
    await mend.click();
    await settled(page);
    expect(await page.getByRole('button', { name: /No backflow preventer/ }).count()).toBe(0);
    await page.getByRole('button', { name: /^Sheet/ }).click();
    await printSheet(page);
    await picture(page, 'mouse-12-sheet');

    const { text, plan } = await save(page);
    expectDrawn(plan);
    expect(Object.values(plan.beds)[0]!.lockedRoute).not.toBeNull();
    await reopen(page, text);
    expect((await save(page)).text.equals(text)).toBe(true);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('by keyboard alone', async () => {
    const { page, context, complaints } = await openLater(bench);
    const act = async (name: string): Promise<void> => {
      await page.keyboard.press('F3');
      await page.keyboard.type(name);
      await page.keyboard.press('Enter');
    };
    await page.keyboard.press('Escape');
    await act('new plan');
    await page.getByRole('dialog', { name: 'New plan' }).waitFor();
    await page.keyboard.type('Corner lot');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'The water' }).waitFor();
    await page.keyboard.type('60');
    await page.keyboard.press('Tab');
    await page.keyboard.type('10');
    await page.keyboard.press('Tab');
    await page.keyboard.type('50');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'The first bed' }).waitFor();
    await page.keyboard.press('Escape');

    await act('trace a building');
    await typeOnRule(page, 'E 0 N 14', "20' at 0", "10' at 90", "20' at 180", '');
    await act('draw a walk');
    await typeOnRule(page, 'E 0 S 5', 'E 20 S 5', '');
    await act('place a tree');
    await typeOnRule(page, 'E 30 N 5', "6'");
    await act('trace a bed');
    await typeOnRule(page, 'E 0 N 0', "12' at 0");
    await page.keyboard.press('Shift+Digit2');
    await typeOnRule(page, 'E 12 N 6', "1'6");
    await page.keyboard.press('Shift+Digit1');
    await typeOnRule(page, "8' at 0", "8' at 90", "20' at 180", '');
    await page.keyboard.press('Escape');
    await settled(page);
    await picture(page, 'keys-1-bed');
    await act('lock the route');
    await settled(page);
    await page.keyboard.press('F8');
    await page.getByRole('region', { name: 'Finding' }).waitFor();
    await picture(page, 'keys-2-finding');
    await page.keyboard.press('Alt+7');
    await printSheet(page);
    const { text, plan } = await save(page);
    expectDrawn(plan);
    await reopen(page, text);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
