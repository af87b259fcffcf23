import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { act, type Bench, clickAt, onScreen, saveText, setUpBench, startEmpty, typeOnRule } from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

const FOOT = 0.3048;

interface Saved {
  readonly beds: Readonly<Record<string, { rings: { points: { x: number; y: number }[] }[] }>>;
}
const savedBeds = async (page: Page) =>
  Object.values((JSON.parse((await saveText(page)).toString()) as Saved).beds).map(
    (bed) => bed.rings[0]!.points,
  );

/** Ground inside a ring by the shoelace formula, square feet. */
const areaFt2 = (ring: readonly { x: number; y: number }[]): number =>
  Math.abs(
    ring.reduce((sum, a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      return sum + a.x * b.y - b.x * a.y;
    }, 0) / 2,
  ) /
  FOOT ** 2;

/** Two beds that touch, 10 x 8 ft and 6 x 8 ft, and one of 4 x 4 ft away from them. */
async function drawBeds(page: Page): Promise<void> {
  await act(page, 'draw a rectangular bed');
  await typeOnRule(page, 'E 0 N 0', "10' x 8'", 'E 10 N 0', "6' x 8'", 'E 30 N 0', "4' x 4'");
  await page.keyboard.press('Escape');
  await page.keyboard.press('Alt+3');
  await page.locator('#sketch').focus();
  await page.keyboard.press('Home');
}

const chosenBeds = (page: Page) => page.locator('.figures tr.is-chosen');

async function dragThrough(
  page: Page,
  places: readonly (readonly [number, number])[],
  between = 3,
): Promise<void> {
  for (const [index, [x, y]] of places.entries()) {
    const at = await onScreen(page, x * FOOT, y * FOOT);
    await page.mouse.move(at.x, at.y, { steps: index === 0 ? 1 : between });
    if (index === 0) await page.mouse.down();
  }
  await page.mouse.up();
}

describe('beds are chosen, joined, split, copied', () => {
  it('by mouse: a lasso round two of three, joined, split across, and a copy set down elsewhere', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await drawBeds(page);
    await page.keyboard.down('Alt');
    await dragThrough(page, [
      [-1, -1],
      [17, -1],
      [17, 9],
      [-1, 9],
      [-1, -1],
    ]);
    await page.keyboard.up('Alt');
    expect(await chosenBeds(page).count()).toBe(2);
    await page.getByRole('button', { name: 'Join', exact: true }).click();
    // 16 ft x 8 ft = 128 ft2, by hand
    await page.getByText('128 ft²').first().waitFor();
    expect((await savedBeds(page)).map(areaFt2).sort((a, b) => a - b)).toEqual([
      expect.closeTo(16, 6),
      expect.closeTo(128, 6),
    ]);

    await page.getByRole('button', { name: 'Split', exact: true }).click();
    await clickAt(page, 4 * FOOT, -2 * FOOT);
    await clickAt(page, 4 * FOOT, 10 * FOOT);
    await page.keyboard.press('Enter');
    expect(await chosenBeds(page).count()).toBe(2);
    const pieces = (await savedBeds(page)).map(areaFt2);
    expect(pieces).toHaveLength(3);
    expect(pieces.reduce((sum, area) => sum + area, 0)).toBeCloseTo(144, 6);

    await clickAt(page, 32 * FOOT, 2 * FOOT);
    await page.getByRole('button', { name: 'Copy', exact: true }).click();
    await clickAt(page, 30 * FOOT, 0);
    await clickAt(page, 30 * FOOT, -10 * FOOT);
    const after = await savedBeds(page);
    expect(after).toHaveLength(4);
    expect(after.map(areaFt2).filter((area) => Math.abs(area - 16) < 1e-6)).toHaveLength(2);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('what arranges stands once, with what is chosen: not while nothing is, and for things of several kinds too', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    const acts = ['Move', 'Copy', 'Turn', 'Mirror', 'Remove'];
    const shown = async (): Promise<number[]> =>
      Promise.all(acts.map((name) => page.getByRole('button', { name, exact: true }).count()));
    await act(page, 'draw a rectangular bed');
    await typeOnRule(page, 'E 0 N 0', "10' x 8'");
    await page.keyboard.press('Escape');
    await page.keyboard.press('Alt+3');
    expect(await shown()).toEqual([1, 1, 1, 1, 1]);
    await page.locator('#sketch').focus();
    await page.keyboard.press('Escape');
    expect(await shown()).toEqual([0, 0, 0, 0, 0]);
    await act(page, 'place a tree');
    await typeOnRule(page, 'E 20 N 4', "6'");
    await page.keyboard.press('Escape');
    await page.locator('#sketch').focus();
    await page.keyboard.press('Control+a');
    await page.getByRole('heading', { name: '2 things' }).waitFor();
    expect(await shown()).toEqual([1, 1, 1, 1, 1]);
    await page.getByRole('button', { name: 'Move', exact: true }).click();
    await typeOnRule(page, 'E 0 N 0', "20' at 90");
    const { beds, trees } = JSON.parse((await saveText(page)).toString());
    expect(trees['tree-1'].at.y / FOOT).toBeCloseTo(24, 9);
    expect(Math.min(...beds['bed-1'].rings[0].points.map(({ y }: { y: number }) => y)) / FOOT).toBeCloseTo(
      20,
      9,
    );
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('by keyboard alone: chosen from the contents, joined, split along a written line, and copied to a written place', async () => {
    const { page, context } = await startEmpty(bench);
    await drawBeds(page);
    await page.keyboard.press('F7');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Shift+Enter');
    expect(await chosenBeds(page).count()).toBe(2);
    await act(page, 'join the chosen beds');
    await page.getByText('128 ft²').first().waitFor();
    await act(page, 'split the chosen bed');
    await typeOnRule(page, 'E 4 S 2', 'E 4 N 10', '');
    const pieces = (await savedBeds(page)).map(areaFt2).sort((a, b) => a - b);
    // 4 ft x 4 ft, 4 ft x 8 ft and 12 ft x 8 ft, by hand
    expect(pieces).toEqual([expect.closeTo(16, 6), expect.closeTo(32, 6), expect.closeTo(96, 6)]);
    await page.keyboard.press('F6');
    await page.keyboard.press('Escape');
    await page.keyboard.press('.');
    await act(page, 'copy what is chosen');
    await typeOnRule(page, 'E 0 N 0', "20' at 90");
    const before = new Set(pieces.map((area) => Math.round(area)));
    const after = await savedBeds(page);
    expect(after).toHaveLength(4);
    expect(after.every((ring) => before.has(Math.round(areaFt2(ring))))).toBe(true);
    const north = after.map((ring) => Math.max(...ring.map((point) => point.y)) / FOOT);
    expect(Math.max(...north)).toBeGreaterThan(20);
    await page.keyboard.press('Control+z');
    expect(await savedBeds(page)).toHaveLength(3);
    await context.close();
  });

  it('a bed drawn by hand is smoothed to few corners and keeps its ground', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await page.getByRole('button', { name: /^Beds/ }).click();
    await page.getByRole('button', { name: 'Outline', exact: true }).click();
    await page.getByRole('button', { name: 'By hand', exact: true }).click();
    // Three quarters and more of a circle of 8 ft about E 12 N 10.
    const circle = Array.from({ length: 37 }, (_none, index) => {
      const angle = (index / 37) * 2 * Math.PI;
      return [12 + 8 * Math.cos(angle), 10 + 8 * Math.sin(angle)] as const;
    });
    await dragThrough(page, circle, 4);
    await page.getByRole('button', { name: 'Close', exact: true }).click();
    const [ring] = await savedBeds(page);
    expect(ring!.length).toBeGreaterThan(7);
    expect(ring!.length).toBeLessThan(60);
    // pi x 8 ft x 8 ft = 201 ft2; a hand's smoothing of 8 cm and the straight closing edge take a few in a hundred
    expect(Math.abs(areaFt2(ring!) / 201.06 - 1)).toBeLessThan(0.05);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
