import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { act, type Bench, saveText, settled, setUpBench, startEmpty, tabTo, typeOnRule } from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

const INCH = 0.0254;
/** Metres of water in a psi: 0.45359237 x 9.80665 / 0.0254^2 Pa over 9806.65 Pa/m. */
const PSI = 0.45359237 / 0.0254 ** 2 / 1000;
/** Cubic metres a second in a US gallon a minute: 231 in3 over 60 s. */
const GPM = (231 * INCH ** 3) / 60;

interface Saved {
  readonly beds: Readonly<
    Record<
      string,
      {
        offsetsM: Record<string, number>;
        densityFactor: number | null;
        rootDepthM: number | null;
        elevationM: number | null;
        specialArea: boolean;
        rowStretchRatio: number | null;
        bendRadiusM: number | null;
      }
    >
  >;
  readonly sources: Readonly<
    Record<string, { pumpCurve: { flowM3s: number; headM: number }[] | null; pumpCutInHeadM: number | null }>
  >;
  readonly georeference: unknown;
  readonly project: { readonly date: string; readonly revisions: readonly unknown[] };
  readonly plants: Readonly<Record<string, unknown>>;
  readonly settings: Readonly<Record<string, number>>;
  readonly site: { readonly wateringWindow: { fromMin: number; toMin: number; days: number[] } };
}
const savedPlan = async (page: Page): Promise<Saved> => JSON.parse((await saveText(page)).toString());

/** Writes into a field by its name, as a person does who then goes on. */
async function write(page: Page, label: string, text: string): Promise<void> {
  const field = page.getByLabel(label, { exact: true });
  await field.fill(text);
  await field.press('Enter');
}

describe('figures that only a file could say', () => {
  it('of a well: the pump’s curve point by point and where it cuts in; the plot follows it, and a rise is refused', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await act(page, 'draw a rectangular bed');
    await typeOnRule(page, 'E 0 N 0', "12' x 9'");
    await act(page, 'place the connection');
    await typeOnRule(page, 'W 20 N 0');
    await page.keyboard.press('Alt+2');
    await page.getByLabel('Water', { exact: true }).selectOption('well');
    await write(page, 'Cuts in at', '40 psi');
    for (const [number, flow, pressure] of [
      [1, '0', '62 psi'],
      [2, '10 gpm', '45 psi'],
      [3, '5 gpm', '55 psi'],
    ] as const) {
      await write(page, `Point ${number}, flow`, flow);
      await write(page, `Point ${number}, pressure`, pressure);
    }
    const [source] = Object.values((await savedPlan(page)).sources);
    expect(source?.pumpCutInHeadM).toBeCloseTo(40 * PSI, 9);
    // Sorted by flow, whatever the order they were written in.
    expect(source?.pumpCurve?.map(({ flowM3s, headM }) => [flowM3s / GPM, headM / PSI])).toEqual([
      [0, expect.closeTo(62, 6)],
      [expect.closeTo(5, 6), expect.closeTo(55, 6)],
      [expect.closeTo(10, 6), expect.closeTo(45, 6)],
    ]);
    await settled(page);
    await page.getByLabel('Point 3, pressure').fill('60 psi');
    await page.getByLabel('Point 3, pressure').press('Enter');
    await page.getByText('At more flow a pump gives no more pressure.').waitFor();
    await write(page, 'Point 3, flow', '');
    expect(Object.values((await savedPlan(page)).sources)[0]?.pumpCurve).toHaveLength(2);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('of a bed: offsets by kind of edge, need of water, height, rows and bends; by keyboard alone', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await act(page, 'draw a rectangular bed');
    await typeOnRule(page, 'E 0 N 0', "12' x 9'");
    await page.keyboard.press('Escape');
    await page.keyboard.press('Alt+3');
    await tabTo(page, 'Need of water, and height', 'Shift+Tab');
    await page.keyboard.press('Enter');
    const typed = async (name: string, text: string): Promise<void> => {
      await tabTo(page, name);
      await page.keyboard.type(text);
    };
    await typed('Density of planting', '0.8');
    await typed('Depth of roots', '14 in');
    await typed('Height over the datum', "3'");
    await tabTo(page, /Special landscape area/);
    await page.keyboard.press('Space');
    await tabTo(page, 'Keep off, by kind of edge', 'Shift+Tab');
    await page.keyboard.press('Enter');
    // What stands in a field is kept when a key turns the page, or saves the plan.
    await typed('Off open ground', '8 in');
    await page.keyboard.press('Alt+4');
    await tabTo(page, 'Rows may widen by', 'Shift+Tab');
    await page.keyboard.type('0');
    await typed('Tightest bend', '9 in');
    const [bed] = Object.values((await savedPlan(page)).beds);
    expect(bed).toMatchObject({ densityFactor: 0.8, specialArea: true, rowStretchRatio: 0 });
    expect(bed?.rootDepthM).toBeCloseTo(14 * INCH, 9);
    expect(bed?.elevationM).toBeCloseTo(36 * INCH, 9);
    expect(bed?.offsetsM).toEqual({ open: expect.closeTo(8 * INCH, 9) });
    expect(bed?.bendRadiusM).toBeCloseTo(9 * INCH, 9);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('of the earth: north alone is no place, and a place is kept once both its figures are written', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    const placed = async () => (await savedPlan(page)).georeference;
    await write(page, 'North, from up', '30');
    expect(await placed()).toEqual({
      longitudeDeg: 0,
      latitudeDeg: 0,
      bearingRad: expect.closeTo(Math.PI / 6, 9),
    });
    await page.getByText('not said: files are in local metres').waitFor();
    await write(page, 'Longitude', '-121.99');
    expect(await placed()).toMatchObject({ longitudeDeg: 0, latitudeDeg: 0 });
    expect(await page.getByLabel('Longitude').inputValue()).toBe('-121.99');
    await write(page, 'Latitude of the origin', '38.36');
    expect(await placed()).toEqual({
      longitudeDeg: -121.99,
      latitudeDeg: 38.36,
      bearingRad: expect.closeTo(Math.PI / 6, 9),
    });
    await write(page, 'Latitude of the origin', '');
    expect(await placed()).toMatchObject({ longitudeDeg: 0, latitudeDeg: 0 });
    await write(page, 'North, from up', '0');
    expect(await placed()).toBeNull();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('of the job: a usual figure is set otherwise for this plan, refused where it cannot be, and let be usual again', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await page.keyboard.press('Alt+5');
    await tabTo(page, 'Change them for this plan', 'Shift+Tab');
    await page.keyboard.press('Enter');
    const depth = page.getByLabel('Depth of headers');
    expect(await depth.getAttribute('placeholder')).toBe('12 in');
    await write(page, 'Depth of headers', '8 in');
    expect((await savedPlan(page)).settings).toEqual({ headerDepthM: expect.closeTo(8 * INCH, 9) });
    await page.getByText('1 of your own').waitFor();
    await write(page, 'Most speed in a pipe', '0');
    await page.getByText('That must be more than nothing.').waitFor();
    await write(page, 'Depth of headers', '');
    expect((await savedPlan(page)).settings).toEqual({});
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('of the sheet: its date and its changes, by keyboard alone', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await act(page, 'draw a rectangular bed');
    await typeOnRule(page, 'E 0 N 0', "12' x 9'");
    await page.keyboard.press('Escape');
    await settled(page);
    await page.keyboard.press('Alt+7');
    await tabTo(page, 'Date of the sheet', 'Tab');
    await page.keyboard.type('2 March 2026');
    await tabTo(page, 'Write a change of the sheet');
    await page.keyboard.press('Enter');
    await tabTo(page, 'Change 1');
    await page.keyboard.type('Valve box moved');
    await tabTo(page, 'Changed on');
    await page.keyboard.type('9 March 2026');
    await tabTo(page, 'Keep this change');
    await page.keyboard.press('Enter');
    expect((await savedPlan(page)).project).toMatchObject({
      date: '2 March 2026',
      revisions: [{ mark: '1', date: '9 March 2026', text: 'Valve box moved' }],
    });
    await page.getByLabel('Change 2').waitFor({ state: 'attached' });
    await page.getByRole('button', { name: 'Take back change 1' }).press('Enter');
    expect((await savedPlan(page)).project.revisions).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('of a plant: a spur of its own', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await page.keyboard.press('Alt+3');
    await act(page, 'place a plant');
    await typeOnRule(page, 'E 0 N 0', '8 in');
    await page.getByLabel('It has a spur of its own').check();
    expect(Object.values((await savedPlan(page)).plants)).toEqual([expect.objectContaining({ spur: true })]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('of the site: the hours and days of watering, past midnight too; the last day stays', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    const hours = async () => (await savedPlan(page)).site.wateringWindow;
    await page.getByLabel('From', { exact: true }).fill('22:30');
    await page.getByLabel('Until', { exact: true }).fill('05:15');
    await page.getByLabel('Until', { exact: true }).press('Enter');
    expect(await hours()).toMatchObject({ fromMin: 22 * 60 + 30, toMin: 24 * 60 + 5 * 60 + 15 });
    const days = page.getByRole('toolbar', { name: 'Days of watering' });
    for (const day of ['Sun', 'Mon', 'Wed', 'Thu', 'Fri', 'Sat'])
      await days.getByRole('button', { name: day }).click();
    expect((await hours()).days).toEqual([2]);
    await days.getByRole('button', { name: 'Tue' }).click();
    await page.getByText('One day a week at least').waitFor();
    expect((await hours()).days).toEqual([2]);
    await days.getByRole('button', { name: 'Sat' }).press('Enter');
    expect((await hours()).days).toEqual([2, 6]);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
