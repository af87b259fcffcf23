import { mkdirSync } from 'node:fs';
import { jsPDF } from 'jspdf';
import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  act,
  type Bench,
  clickAt,
  giveFile,
  openLater,
  printedSheet,
  saveText,
  settled,
  setUpBench,
  startEmpty,
  tabTo,
  tubingFt,
  typeOnRule,
  watchPrinter,
} from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

/** A folder for pictures to look at, where one is asked for: each step in every look, on a plain and on a dense screen. */
const PICTURES = process.env.RILLSHEET_PICTURES;

/** What a system asks for that makes the desk look so; the last is how a step goes on. */
const LOOKS = [
  ['contrast', { colorScheme: 'light', contrast: 'more' }],
  ['dark', { colorScheme: 'dark', contrast: 'no-preference' }],
  ['light', { colorScheme: 'light', contrast: 'no-preference' }],
] as const;

async function picture(page: Page, name: string): Promise<void> {
  if (PICTURES === undefined) return;
  mkdirSync(PICTURES, { recursive: true });
  const screen = await page.context().newCDPSession(page);
  for (const deviceScaleFactor of [2, 1]) {
    const metrics = { width: 1440, height: 900, deviceScaleFactor, mobile: false };
    await screen.send('Emulation.setDeviceMetricsOverride', metrics);
    for (const [look, asked] of LOOKS) {
      await page.emulateMedia(asked);
      await page.waitForTimeout(400);
      await page.screenshot({
        path: `${PICTURES}/${name}-${look}-${deviceScaleFactor}x.png`,
        scale: 'device',
      });
    }
  }
  await screen.detach();
}

/** A site plan of 300 x 200 mm with a bar of 100 mm across, and one of 50 mm up from its left end. */
function sitePlan(): Buffer {
  const pdf = new jsPDF({ unit: 'mm', format: [300, 200], orientation: 'landscape' });
  pdf.line(50, 100, 150, 100);
  // a second bar of 50 mm up from the first one's left end, to check the scale by
  pdf.line(50, 100, 50, 50);
  return Buffer.from(pdf.output('arraybuffer'));
}

interface Saved {
  readonly beds: Record<
    string,
    { rings: { points: { x: number; y: number }[]; edges: { sagittaM: number }[] }[]; lockedRoute: unknown }
  >;
  readonly trees: Record<string, unknown>;
  readonly structures: Record<string, { kind: string; shape: { kind: string } }>;
  readonly sources: Record<string, { staticHeadM: number; flowTestM3s: number; backflowId: string | null }>;
  readonly underlays: Record<
    string,
    { originX: number; originY: number; metresPerPixel: number; widthPx: number; heightPx: number }
  >;
}

async function save(page: Page): Promise<{ text: Buffer; plan: Saved }> {
  const text = await saveText(page);
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
  const [source] = Object.values(plan.sources);
  expect(source!.staticHeadM).toBeCloseTo(42.2, 0);
  // 5 gal in 30 s is 10 gpm; a US gallon is 3.785411784 L
  expect(source!.flowTestM3s * 60_000).toBeCloseTo(37.85411784, 6);
  // the bar of 100 of the sheet's 300 mm is 40 ft on the ground, so the sheet is 120 ft wide; a hand on the screen is true to a pixel or two
  const [underlay] = Object.values(plan.underlays);
  expect((underlay!.widthPx * underlay!.metresPerPixel) / FOOT / 120).toBeCloseTo(1, 1);
  expect(Object.values(plan.beds)[0]!.lockedRoute).not.toBeNull();
}

const isPdf = (bytes: Buffer): boolean => bytes.subarray(0, 5).toString() === '%PDF-';

/** The underlay of the plan: where it lies and how large it is, in metres. */
async function underlayOf(page: Page): Promise<{ x: number; y: number; wideM: number; highM: number }> {
  const [one] = Object.values((await save(page)).plan.underlays);
  if (!one) throw new Error('there is no underlay');
  const { originX, originY, widthPx, heightPx, metresPerPixel } = one;
  return { x: originX, y: originY, wideM: widthPx * metresPerPixel, highM: heightPx * metresPerPixel };
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
    await page.locator('#sketch').press('7');
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
    const { page, context, complaints } = await openLater(bench, { prepare: watchPrinter });
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
    await walk.getByText('Bucket and stopwatch').click();
    await walk.getByLabel('Gallons that ran').fill('5');
    await walk.getByLabel('Seconds it took').fill('30');
    await walk.getByLabel('Seconds it took').press('Tab');
    await walk.getByRole('button', { name: /^Take this flow/ }).click();
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
    const before = await underlayOf(page);
    for (const share of [50 / 300, 150 / 300])
      await clickAt(page, before.x + share * before.wideM, before.y + 0.5 * before.highM);
    await page.getByLabel('Really apart').fill("40'");
    await page.getByLabel('Really apart').press('Enter');
    await page.getByText('Scale set.').waitFor();
    const scaled = await underlayOf(page);
    await clickAt(page, scaled.x + (50 / 300) * scaled.wideM, scaled.y + 0.5 * scaled.highM);
    await clickAt(page, scaled.x + (50 / 300) * scaled.wideM, scaled.y + 0.75 * scaled.highM);
    await page.getByLabel('Known distance').fill("20'");
    await page.getByLabel('Known distance').press('Enter');
    await page.getByText('The picture is fair to trace over.').waitFor();
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
    await page.getByRole('img', { name: /^Page 1/ }).waitFor();
    const printed = await printedSheet(page, () =>
      page.getByRole('button', { name: 'Print the sheet' }).click(),
    );
    expect(isPdf(printed)).toBe(true);
    await picture(page, 'mouse-12-sheet');

    const { text, plan } = await save(page);
    expectDrawn(plan);
    await giveFile(page, () => page.keyboard.press('Control+o'), 'lot.rillsheet.json', text);
    await page.locator('.plan-name', { hasText: 'Corner lot' }).waitFor();
    expect((await save(page)).text.equals(text)).toBe(true);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('by keyboard alone, over an underlay set to scale', async () => {
    const { page, context, complaints } = await openLater(bench, { prepare: watchPrinter });
    const press = (key: string): Promise<void> => page.keyboard.press(key);
    await press('Escape');
    await act(page, 'new plan');
    await page.getByRole('dialog', { name: 'New plan' }).waitFor();
    await page.keyboard.type('Corner lot');
    await press('Enter');
    await page.getByRole('heading', { name: 'The water' }).waitFor();
    await page.keyboard.type('60');
    await tabTo(page, 'Pressure meanwhile');
    await page.keyboard.type('50');
    await tabTo(page, 'Bucket and stopwatch');
    await press('Enter');
    await press('Tab');
    await page.keyboard.type('5');
    await press('Tab');
    await page.keyboard.type('30');
    await press('Tab');
    await tabTo(page, /^Take this flow/);
    await press('Enter');
    await tabTo(page, 'The first bed');
    await press('Enter');
    await page.getByRole('heading', { name: 'The first bed' }).waitFor();
    await press('Escape');

    await giveFile(page, () => act(page, 'bring in a picture'), 'lot.pdf', sitePlan());
    await page.getByRole('dialog', { name: 'Page of the PDF' }).waitFor();
    await tabTo(page, 'Lay it under the plan');
    await press('Enter');
    await page.getByText('Scale: measure between two points').waitFor();
    const before = await underlayOf(page);
    const place = (x: number, y: number): string =>
      `${x < 0 ? 'W' : 'E'} ${Math.abs(x)} m ${y < 0 ? 'S' : 'N'} ${Math.abs(y)} m`;
    await act(page, 'measure');
    for (const share of [50 / 300, 150 / 300])
      await typeOnRule(page, place(before.x + share * before.wideM, before.y + 0.5 * before.highM));
    await tabTo(page, 'Really apart', 'Shift+Tab');
    await typeOnRule(page, "40'");
    await page.getByText('Scale set.').waitFor();
    const scaled = await underlayOf(page);
    await press('F6');
    for (const share of [0.5, 0.75])
      await typeOnRule(page, place(scaled.x + (50 / 300) * scaled.wideM, scaled.y + share * scaled.highM));
    await tabTo(page, 'Known distance', 'Shift+Tab');
    await typeOnRule(page, "20'");
    await page.getByText('The picture is fair to trace over.').waitFor();
    await picture(page, 'keys-0-underlay');

    await act(page, 'trace a building');
    await typeOnRule(page, 'E 0 N 14', "20' at 0", "10' at 90", "20' at 180", '');
    await act(page, 'draw a walk');
    await typeOnRule(page, 'E 0 S 5', 'E 20 S 5', '');
    await act(page, 'place a tree');
    await typeOnRule(page, 'E 30 N 5', "6'");
    await act(page, 'trace a bed');
    await typeOnRule(page, 'E 0 N 0', "12' at 0");
    await press('Shift+Digit2');
    await typeOnRule(page, 'E 12 N 6', "1'6");
    await press('Shift+Digit1');
    await typeOnRule(page, "8' at 0", "8' at 90", "20' at 180", '');
    await press('Escape');
    await settled(page);
    await picture(page, 'keys-1-bed');
    await act(page, 'lock the route');
    await settled(page);

    const slip = page.getByRole('region', { name: 'Finding' });
    const heading = async (): Promise<string> => (await slip.getByRole('heading').textContent()) ?? '';
    await press('F8');
    await slip.waitFor();
    for (let seen = 0; seen < 30 && !(await heading()).includes('No backflow preventer'); seen += 1)
      await press('F8');
    expect(await heading()).toContain('No backflow preventer');
    await picture(page, 'keys-2-finding');
    // From the finding the first mend is two steps away: its Close comes first.
    await press('Tab');
    await press('Tab');
    await press('Enter');
    await settled(page);
    expect(await page.getByRole('button', { name: /No backflow preventer/ }).count()).toBe(0);
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('sketch');

    await press('Alt+7');
    const printed = await printedSheet(page, () => press('Control+p'));
    expect(isPdf(printed)).toBe(true);
    const { text, plan } = await save(page);
    expectDrawn(plan);
    await giveFile(page, () => press('Control+o'), 'lot.rillsheet.json', text);
    await page.locator('.plan-name', { hasText: 'Corner lot' }).waitFor();
    expect((await save(page)).text.equals(text)).toBe(true);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
