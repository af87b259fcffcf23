import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  act,
  type Bench,
  clickAt,
  onScreen,
  saveText,
  settled,
  setUpBench,
  startEmpty,
  tubingFt,
  typeOnRule,
} from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

const FOOT = 0.3048;
const INCH = 0.0254;

/** Words that stand on the sketch itself: its own drawing library lists them. */
const onSketch = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    type Node = { text(): string };
    const { Konva } = window as unknown as { Konva: { stages: { find(kind: string): Node[] }[] } };
    return Konva.stages.flatMap((stage) => stage.find('Text').map((node) => node.text()));
  });

interface Saved {
  readonly beds: Readonly<
    Record<
      string,
      {
        soil: string | null;
        rowSpacingM: number | null;
        offsetsM: Readonly<Record<string, number>>;
        rings: {
          points: { x: number; y: number }[];
          edges: { class: string | null; offsetM: number | null }[];
        }[];
      }
    >
  >;
  readonly trees: Readonly<Record<string, { canopyRadiusM: number; trunkRadiusM: number }>>;
}
const savedPlan = async (page: Page): Promise<Saved> => JSON.parse((await saveText(page)).toString());

/** A house of 20 x 10 ft and a bed of 20 x 8 ft along its south wall. */
async function bedAtHouse(page: Page): Promise<void> {
  await act(page, 'trace a building');
  await typeOnRule(page, 'E 0 N 8', "20' at 0", "10' at 90", "20' at 180", '');
  await act(page, 'draw a rectangular bed');
  await typeOnRule(page, 'E 0 N 0', "20' x 8'");
  await page.keyboard.press('Escape');
  await page.keyboard.press('Alt+3');
  await page.locator('#sketch').focus();
  await page.keyboard.press('Home');
  await settled(page);
}

describe('an edge of a bed', () => {
  it('says along itself what it runs along and how far tubing keeps off, and both are changed there', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await bedAtHouse(page);
    // common practice, no source: 12 in off a foundation on loam, 3 in off open ground
    const words = await onSketch(page);
    expect(words.filter((one) => one === 'foundation, off 12 in')).toHaveLength(1);
    expect(words.filter((one) => one === 'open ground, off 3 in')).toHaveLength(3);

    await clickAt(page, 5 * FOOT, 0);
    const slip = page.getByRole('region', { name: 'Edge' });
    await slip.getByLabel('Runs along').selectOption('lawn');
    await slip.getByLabel('Keep off').fill('6 in');
    await slip.getByLabel('Keep off').press('Enter');
    await settled(page);
    expect(await onSketch(page)).toContain('lawn, off 6 in');
    const [bed] = Object.values((await savedPlan(page)).beds);
    const set = bed!.rings[0]!.edges.filter((edge) => edge.class !== null);
    expect(set).toHaveLength(1);
    expect(set[0]!.class).toBe('lawn');
    expect(set[0]!.offsetM).toBeCloseTo(6 * INCH, 9);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('what the pointer catches', () => {
  it('is said in words on the rule and beside the pointer, drawing and dragging, and a held key lets it go', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await bedAtHouse(page);
    const caught = page.locator('.rule-catch');
    const hover = async (x: number, y: number): Promise<void> => {
      const at = await onScreen(page, x * FOOT, y * FOOT);
      await page.mouse.move(at.x - 2, at.y - 2);
      await page.mouse.move(at.x + 2, at.y + 2);
    };
    await page.keyboard.press('Escape');
    await page.keyboard.press('2');
    await hover(20, 18);
    expect(await caught.textContent()).toBe('end of House');
    expect(await onSketch(page)).toContain('end');
    await hover(10, 18);
    expect(await caught.textContent()).toBe('middle of House');
    await hover(13, 18);
    expect(await caught.textContent()).toBe('along the edge of House');
    await page.keyboard.down('Alt');
    await hover(20, 18);
    expect(await caught.textContent()).toBe('');
    await page.keyboard.up('Alt');
    // From a place 3 ft south of the wall's line, the foot on the wall is square to it.
    await typeOnRule(page, 'E 26 N 14');
    await hover(20, 14);
    expect(await caught.textContent()).toBe('square to the edge of House');
    await page.keyboard.press('Escape');
    await page.keyboard.press('Escape');

    // The bed's south-east corner, dragged to the corner of the house.
    await clickAt(page, 10 * FOOT, 4 * FOOT);
    const corner = await onScreen(page, 20 * FOOT, 0);
    await page.mouse.move(corner.x, corner.y);
    await page.mouse.down();
    await hover(22, 4);
    await hover(20, 18);
    expect(await caught.textContent()).toBe('end of House');
    expect(await onSketch(page)).toContain('end');
    await page.mouse.up();
    const [bed] = Object.values((await savedPlan(page)).beds);
    const points = bed!.rings[0]!.points;
    expect(points.some(({ x, y }) => x === 20 * FOOT && Math.abs(y - 18 * FOOT) < 1e-9)).toBe(true);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('tubing drawn by hand', () => {
  it('is one loop of the designer’s own, kept as drawn and checked all the same', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await act(page, 'draw a rectangular bed');
    await typeOnRule(page, 'E 0 N 0', "12' x 9'");
    await page.keyboard.press('Escape');
    await settled(page);
    await page.keyboard.press('Alt+4');
    await page.getByRole('button', { name: 'Draw tubing' }).click();
    await typeOnRule(page, 'E 1 N 1', "10' at 0", "7' at 90", "10' at 180", '');
    await page.keyboard.press('Escape');
    await page.getByText('route locked by hand').waitFor();
    await settled(page);
    // Twice 10 ft and twice 7 ft are 34 ft, by hand, less what bent corners save: at most 0.43 of a bend's 6 in at each of four.
    const drawnFt = await tubingFt(page, 'bed-1');
    expect(drawnFt).toBeLessThan(34);
    expect(drawnFt).toBeGreaterThan(34 - 4 * 0.43 * 0.5 - 0.2);
    const line = page.locator('tr.is-chosen');
    // One lap wets a strip along itself: the middle of the bed is dry, and the page says so.
    expect(Number((await line.locator('td').last().textContent())?.replace(/[^\d]/g, ''))).toBeLessThan(90);
    await page.keyboard.press('Control+z');
    await settled(page);
    expect(await tubingFt(page, 'bed-1')).toBeGreaterThan(34);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('like things edited at once', () => {
  it('one figure changes all that are chosen, and a field where they differ says so', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await act(page, 'place a tree');
    await typeOnRule(page, 'E 0 N 0', "6'", 'E 20 N 0', "9'");
    await page.keyboard.press('Escape');
    await page.keyboard.press('Alt+3');
    await page.locator('#sketch').focus();
    await page.keyboard.press('Control+a');
    await page.getByRole('heading', { name: '2 alike' }).waitFor();
    const canopy = page.getByLabel('Radius of the canopy');
    expect(await canopy.inputValue()).toBe('');
    expect(await canopy.getAttribute('placeholder')).toBe('they differ');
    await canopy.fill("7'");
    await canopy.press('Enter');
    const trees = Object.values((await savedPlan(page)).trees);
    expect(trees.map((tree) => tree.canopyRadiusM / FOOT)).toEqual([
      expect.closeTo(7, 9),
      expect.closeTo(7, 9),
    ]);
    expect(await canopy.inputValue()).toContain('7');
    await page.keyboard.press('Control+z');
    const back = Object.values((await savedPlan(page)).trees).map((tree) => tree.canopyRadiusM / FOOT);
    expect(back.sort()).toEqual([expect.closeTo(6, 9), expect.closeTo(9, 9)]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('rows and soil of two beds too, from the pages of their steps', async () => {
    const { page, context } = await startEmpty(bench);
    await act(page, 'draw a rectangular bed');
    await typeOnRule(page, 'E 0 N 0', "10' x 8'", 'E 14 N 0', "6' x 8'");
    await page.keyboard.press('Escape');
    await page.keyboard.press('Alt+3');
    await page.getByLabel('Soil').selectOption('clay');
    await page.locator('#sketch').focus();
    await page.keyboard.press('Control+a');
    expect(await page.getByLabel('Soil').locator('option:checked').textContent()).toBe('they differ');
    await page.getByLabel('Soil').selectOption('sand');
    await settled(page);
    await page.keyboard.press('Alt+4');
    await page.getByRole('heading', { name: '2 beds' }).waitFor();
    await page.getByLabel('Row spacing').fill('15 in');
    await page.getByLabel('Row spacing').press('Enter');
    const beds = Object.values((await savedPlan(page)).beds);
    expect(beds.map((bed) => bed.soil)).toEqual(['sand', 'sand']);
    expect(beds.map((bed) => (bed.rowSpacingM ?? 0) / INCH)).toEqual([
      expect.closeTo(15, 9),
      expect.closeTo(15, 9),
    ]);
    await context.close();
  });

  it('offsets by kind of edge of two beds: each keeps its others, and one press is one step', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await act(page, 'draw a rectangular bed');
    await typeOnRule(page, 'E 0 N 0', "10' x 8'", 'E 14 N 0', "6' x 8'");
    await page.keyboard.press('Escape');
    await page.keyboard.press('Alt+3');
    const fields = page.locator('details', { hasText: 'Keep off, by kind of edge' });
    const folded = fields.getByText('Keep off, by kind of edge', { exact: true });
    const write = async (label: string, text: string): Promise<void> => {
      await fields.getByLabel(label).fill(text);
      await fields.getByLabel(label).press('Enter');
    };
    await folded.click();
    // The second bed is the one just drawn.
    await write('Off lawn', '5 in');
    await page.locator('#sketch').focus();
    await page.keyboard.press('Control+a');
    if (!(await fields.getByLabel('Off lawn').isVisible())) await folded.click();
    await write('Off open ground', '8 in');
    const set = expect.closeTo(8 * INCH, 9);
    const offsets = async () => Object.values((await savedPlan(page)).beds).map(({ offsetsM }) => offsetsM);
    expect(await offsets()).toEqual([{ open: set }, { open: set, lawn: expect.closeTo(5 * INCH, 9) }]);
    expect(await page.getByRole('button', { name: /^Undo/ }).textContent()).toBe('Undo: change');
    await page.keyboard.press('Control+z');
    expect(await offsets()).toEqual([{}, { lawn: expect.closeTo(5 * INCH, 9) }]);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('a window taken to a denser screen', () => {
  it('draws the plan where it was, with a pixel for each of the screen’s', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await act(page, 'trace a building');
    await typeOnRule(page, 'E 0 N 0', "20' at 0", "10' at 90", "20' at 180", '');
    await page.keyboard.press('Escape');
    await page.locator('#sketch').focus();
    await page.keyboard.press('Home');
    await page.keyboard.press('Escape');
    await page.mouse.move(5, 5);
    /** Of the paper under the plan: pixels to a CSS pixel, and the ink within 4 px of the house's south-west corner and outside it. */
    const drawn = async () => {
      const at = await onScreen(page, 0, 0);
      return page.evaluate(async ({ x, y }) => {
        await new Promise(requestAnimationFrame);
        const canvas = document.querySelector<HTMLCanvasElement>('#sketch canvas')!;
        const frame = canvas.getBoundingClientRect();
        const ratio = canvas.width / frame.width;
        const inkAt = (px: number, py: number): number => {
          const size = Math.round(8 * ratio);
          const { data } = canvas
            .getContext('2d')!
            .getImageData((px - frame.x - 4) * ratio, (py - frame.y - 4) * ratio, size, size);
          return data.filter((value, index) => index % 4 === 3 && value > 128).length;
        };
        return { ratio, atCorner: inkAt(x, y) > 0, outside: inkAt(x - 30, y + 30) > 0 };
      }, at);
    };
    expect(await drawn()).toEqual({ ratio: 1, atCorner: true, outside: false });
    const screen = await page.context().newCDPSession(page);
    for (const deviceScaleFactor of [2, 1]) {
      const metrics = { width: 1440, height: 900, deviceScaleFactor, mobile: false };
      await screen.send('Emulation.setDeviceMetricsOverride', metrics);
      await page.mouse.move(5, 5 + deviceScaleFactor);
      await expect
        .poll(drawn, { timeout: 20_000 })
        .toEqual({ ratio: deviceScaleFactor, atCorner: true, outside: false });
    }
    expect(complaints).toEqual([]);
    await context.close();
  });
});
