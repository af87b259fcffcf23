import { readFileSync } from 'node:fs';
import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  act,
  type Bench,
  clickAt,
  giveFile,
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

const PSI_M = 6894.757 / 9790;

const savedPlan = async (page: Page) => JSON.parse((await saveText(page)).toString());

/** Goes to a field by Tab alone and writes in it. */
async function write(page: Page, label: string, text: string): Promise<void> {
  await tabTo(page, label);
  await page.keyboard.type(text);
  await page.keyboard.press('Enter');
}

/** Opens a folded part of the page by Tab and Return. */
async function unfold(page: Page, summary: string): Promise<void> {
  await tabTo(page, summary);
  await page.keyboard.press('Enter');
}

describe('what was found on the site is written in', () => {
  it('by mouse: layers of a jar of soil, a table of climate, its rain, and the flow from a bucket', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await page.getByRole('button', { name: /^Site/ }).click();
    await page.getByText('Jar test').click();
    await page.getByLabel('Sand, after a minute').fill('2');
    await page.getByLabel('Silt, after two hours').fill('2');
    await page.getByLabel('Clay, once it is clear').fill('1');
    await page.getByLabel('Clay, once it is clear').press('Enter');
    // 40 % sand, 40 % silt, 20 % clay is loam on the USDA texture triangle (Soil Survey Manual, from memory)
    await page.getByRole('button', { name: /^Loam what the jar says/ }).click();
    const tables = page.getByLabel('Reference ET of');
    const place = (await tables.locator('option').nth(1).textContent())!;
    await tables.selectOption({ index: 1 });
    await page.getByText('Rain, month by month').click();
    await page.locator('details[open]', { hasText: 'Rain, month' }).getByLabel('January').fill('1.5');
    await page.locator('details[open]', { hasText: 'Rain, month' }).getByLabel('January').press('Enter');

    await page.getByRole('button', { name: /^Water/ }).click();
    await page.getByRole('button', { name: 'Connection', exact: true }).click();
    await clickAt(page, 0, 0);
    await page.getByText('Bucket and stopwatch').click();
    await page.getByLabel('Gallons that ran').fill('5');
    await page.getByLabel('Seconds it took').fill('30');
    await page.getByLabel('Seconds it took').press('Enter');
    await page.getByRole('button', { name: /^Take this flow/ }).click();

    const plan = await savedPlan(page);
    expect(plan.site.soil).toBe('loam');
    expect(plan.site.climate.place).toBe(place);
    expect(plan.site.climate.rainM[0]).toBeCloseTo(1.5 * 0.0254, 9);
    // 5 gal in 30 s is 10 gpm; a US gallon is 3.785411784 L
    const [source] = Object.values(plan.sources) as { flowTestM3s: number }[];
    expect(source!.flowTestM3s * 60_000).toBeCloseTo(10 * 3.785411784, 6);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('by keyboard alone: the same jar, a latitude with temperatures, and the flow from the dial of a meter', async () => {
    const { page, context } = await startEmpty(bench);
    await page.keyboard.press('Alt+1');
    await unfold(page, 'Jar test');
    await write(page, 'Sand, after a minute', '2');
    await write(page, 'Silt, after two hours', '2');
    await write(page, 'Clay, once it is clear', '1');
    await tabTo(page, /^Loam/);
    await page.keyboard.press('Enter');
    await write(page, 'Latitude', '36');
    await unfold(page, 'Reference ET from temperatures');
    for (let field = 0; field < 24; field += 1) {
      await page.keyboard.press('Tab');
      await page.keyboard.type(field % 2 === 0 ? '26' : '14');
    }
    await page.keyboard.press('Enter');
    await tabTo(page, /^Take this year/);
    await page.keyboard.press('Enter');

    await page.keyboard.press('Alt+2');
    await act(page, 'place the connection');
    await typeOnRule(page, 'E 0 N 0');
    await page.keyboard.press('Escape');
    await unfold(page, 'The meter’s dial, read twice');
    await write(page, 'Dial before, gallons', '1204');
    await write(page, 'Dial after, gallons', '1200');
    await page.getByText('The second reading must be the larger one.').waitFor();
    await tabTo(page, 'Dial after, gallons', 'Shift+Tab');
    await page.keyboard.press('Control+a');
    await page.keyboard.type('1216');
    await page.keyboard.press('Enter');
    await write(page, 'Seconds between', '60');
    await tabTo(page, /^Take this flow/);
    await page.keyboard.press('Enter');

    const plan = await savedPlan(page);
    expect(plan.site.soil).toBe('loam');
    expect(plan.site.climate.latitudeRad).toBeCloseTo((36 * Math.PI) / 180, 9);
    // Hargreaves by hand for July at 36 degrees north: Ra 40.8 MJ/m2/d (FAO-56 table 2.6, from memory), 16.65 mm/d of
    // evaporation; 0.0023 x (20 + 17.8) x sqrt(12) x 16.65 = 5.01 mm/d, 155 mm in the month
    expect(plan.site.climate.referenceEtM[6] * 1000).toBeGreaterThan(150);
    expect(plan.site.climate.referenceEtM[6] * 1000).toBeLessThan(162);
    // 12 gal in a minute
    const [source] = Object.values(plan.sources) as { flowTestM3s: number }[];
    expect(source!.flowTestM3s * 60_000).toBeCloseTo(12 * 3.785411784, 6);
    await context.close();
  });

  it('a reading of the crew stands beside what was foreseen, and can be taken back', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await act(page, 'draw a rectangular bed');
    await typeOnRule(page, 'E 0 N 0', "12' x 10'");
    await act(page, 'place the connection');
    await typeOnRule(page, 'W 6 N 0');
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: /^Water/ }).click();
    await page.getByLabel('Measured', { exact: true }).fill('55');
    await page.getByLabel('Measured', { exact: true }).press('Enter');
    await settled(page);
    await page.getByRole('button', { name: /^Review/ }).click();
    await page.getByText('Type in a reading').click();
    await page.getByLabel('Pressure read').fill('9 psi');
    await page.getByLabel('Read by').fill('R. Ash');
    await page.getByLabel('Read by').press('Enter');
    await page.getByRole('button', { name: 'Keep this reading' }).click();
    await settled(page);
    const section = page.locator('section', { has: page.getByRole('heading', { name: 'Read on site' }) });
    // Any regulator of drip holds far more than 9 psi: this reading differs.
    await section.locator('.refusal').first().waitFor();
    const [reading] = Object.values((await savedPlan(page)).readings) as { headM: number; by: string }[];
    expect(reading!.headM).toBeCloseTo(9 * PSI_M, 1);
    expect(reading!.by).toBe('R. Ash');
    await section.getByRole('button', { name: /^Take back/ }).click();
    await settled(page);
    expect(await section.locator('.refusal').count()).toBe(0);
    expect(Object.keys((await savedPlan(page)).readings)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('what lies in other files is brought in', () => {
  it('a picture under the plan is turned and faded, and moves under the hand only while it is not locked', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    const picture = await page.screenshot({ clip: { x: 0, y: 0, width: 400, height: 400 } });
    await giveFile(page, () => act(page, 'bring in a picture'), 'plot.png', picture);
    await page.getByLabel('Turned by').waitFor();
    await page.getByLabel('Turned by').fill('30');
    await page.getByLabel('Turned by').press('Enter');
    await page.getByLabel('Faded by').fill('65 %');
    await page.getByLabel('Faded by').press('Enter');
    const underlay = async () =>
      Object.values((await savedPlan(page)).underlays)[0] as Record<string, number> & { locked: boolean };
    const laid = await underlay();
    expect(laid.turnRad).toBeCloseTo(Math.PI / 6, 9);
    expect(laid.fadeRatio).toBeCloseTo(0.65, 9);
    expect(laid.locked).toBe(true);
    // A place well inside the picture: half its width along its own turned bottom edge, and a little above that.
    const wide = laid.widthPx! * laid.metresPerPixel!;
    const along = laid.turnRad!;
    const inside = {
      x: laid.originX! + (wide / 2) * Math.cos(along) - (wide / 4) * Math.sin(along),
      y: laid.originY! + (wide / 2) * Math.sin(along) + (wide / 4) * Math.cos(along),
    };
    const drag = async (): Promise<void> => {
      await page.keyboard.press('Home');
      const from = await onScreen(page, inside.x, inside.y);
      await page.mouse.move(from.x, from.y);
      await page.mouse.down();
      await page.mouse.move(from.x + 40, from.y - 20, { steps: 5 });
      await page.mouse.up();
    };
    await page.locator('#sketch').focus();
    await drag();
    expect((await underlay()).originX).toBe(laid.originX);
    await act(page, 'choose everything');
    await page.getByLabel('Locked: the hand passes over it').uncheck();
    await page.locator('#sketch').focus();
    await drag();
    const moved = await underlay();
    expect(moved.locked).toBe(false);
    expect(moved.originX! - laid.originX!).toBeGreaterThan(0);
    expect(moved.originY! - laid.originY!).toBeGreaterThan(0);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('a GeoJSON of another program is looked at first, then its beds lie beside what is drawn', async () => {
    const site = JSON.stringify({
      type: 'FeatureCollection',
      rillsheet: { frame: 'local-metres' },
      features: [
        {
          type: 'Feature',
          id: 'bed-1',
          properties: { kind: 'bed', name: 'Kitchen border', soil: 'clay' },
          geometry: {
            type: 'Polygon',
            coordinates: [
              [
                [20, 0],
                [23, 0],
                [23, 4],
                [20, 4],
                [20, 0],
              ],
            ],
          },
        },
      ],
    });
    const { page, context, complaints } = await startEmpty(bench);
    await act(page, 'draw a rectangular bed');
    await typeOnRule(page, 'E 0 N 0', "12' x 10'");
    await page.keyboard.press('Escape');
    await giveFile(page, () => act(page, 'bring in geojson'), 'site.geojson', Buffer.from(site));
    const question = page.getByRole('dialog', { name: 'What the file holds' });
    await question.getByText('local metres, as the file says').waitFor();
    await question.getByRole('button', { name: 'Put it on the plan' }).click();
    const beds = Object.values((await savedPlan(page)).beds) as { id: string; name: string; soil: string }[];
    expect(beds.map((bed) => bed.name).sort()).toEqual(['', 'Kitchen border']);
    // The id was taken: both beds are there under ids of their own.
    expect(new Set(beds.map((bed) => bed.id)).size).toBe(2);
    expect(beds.find((bed) => bed.name !== '')!.soil).toBe('clay');
    await page.keyboard.press('Control+z');
    expect(Object.keys((await savedPlan(page)).beds)).toEqual(['bed-1']);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('a file of own parts puts its dripline into the choices of a bed, and a broken one says where it is broken', async () => {
    const parts = readFileSync(new URL('../../assets/schema/examples/parts.json', import.meta.url));
    const dripline = (JSON.parse(parts.toString()) as { parts: { kind: string; name: string }[] }).parts.find(
      (part) => part.kind === 'dripline',
    );
    const { page, context } = await startEmpty(bench);
    await act(page, 'draw a rectangular bed');
    await typeOnRule(page, 'E 0 N 0', "12' x 10'");
    await page.keyboard.press('Escape');
    await giveFile(
      page,
      () => act(page, 'bring in your own parts'),
      'parts.json',
      Buffer.from('{"parts": ['),
    );
    await page.locator('.said.ink-stop').waitFor();
    await giveFile(page, () => act(page, 'bring in your own parts'), 'parts.json', parts);
    await page.getByText(/The design now counts \d+ parts? of your own/).waitFor();
    await settled(page);
    await page.keyboard.press('Alt+4');
    await page.getByLabel('Dripline').selectOption({ label: dripline!.name });
    await settled(page);
    const [bed] = Object.values((await savedPlan(page)).beds) as { driplineId: string | null }[];
    expect(bed!.driplineId).not.toBeNull();
    await context.close();
  });
});
