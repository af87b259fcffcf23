import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { act, type Bench, clickAt, onScreen, saveText, setUpBench, startEmpty, typeOnRule } from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

const FOOT = 0.3048;

interface Shape {
  readonly rings?: readonly (readonly { x: number; y: number }[])[];
  readonly path?: readonly { x: number; y: number }[];
  readonly widthM?: number;
  readonly arcs?: readonly { sagittaM: number }[];
}
interface Saved {
  readonly structures: Readonly<Record<string, { kind: string; shape: Shape }>>;
  readonly utilities: Readonly<Record<string, Line>>;
  readonly lockedPipes: Readonly<Record<string, Line>>;
}
interface Line {
  readonly path: readonly { x: number; y: number }[];
  readonly arcs?: readonly { sagittaM: number }[];
}
const savedPlan = async (page: Page): Promise<Saved> => JSON.parse((await saveText(page)).toString());

const inFeet = (points: readonly { x: number; y: number }[] | undefined): readonly (readonly number[])[] =>
  (points ?? []).map(({ x, y }) => [x, y].map((m) => Math.round((m / FOOT) * 1000) / 1000));

const shapeOf = async (page: Page): Promise<Shape> => {
  const [structure] = Object.values((await savedPlan(page)).structures);
  if (!structure) throw new Error('nothing was drawn');
  return structure.shape;
};

/** The last edit, as the list of what was done names it. */
const lastDone = async (page: Page): Promise<string> => {
  await page.getByRole('button', { name: /^Done/ }).click();
  const words = await page.locator('button[aria-current="step"]').last().textContent();
  await page.keyboard.press('Escape');
  return words ?? '';
};

const LINES = [
  { map: 'fence', trace: 'draw a fence', name: 'Fence' },
  { map: 'utilities', trace: 'draw a known buried line', name: 'Buried line 1' },
  { map: 'lockedPipes', trace: 'lead a header by hand', name: 'Header by hand 1' },
] as const;

/** The one line of a kind as it was saved. */
async function lineOf(page: Page, map: (typeof LINES)[number]['map']): Promise<Line> {
  const plan = await savedPlan(page);
  const lines: readonly Partial<Line>[] =
    map === 'fence' ? Object.values(plan.structures).map(({ shape }) => shape) : Object.values(plan[map]);
  const line = lines.find(({ path }) => path !== undefined);
  if (!line?.path) throw new Error('nothing was drawn');
  return line as Line;
}

const chosen = (page: Page) => page.getByRole('status', { name: 'Chosen' });

describe('corners of what was drawn, by mouse', () => {
  it('of a building: dragged with a catch, put into an edge, taken away, and an edge made an arc', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await act(page, 'trace a building');
    await typeOnRule(page, 'E 0 N 0', "20' at 0", "10' at 90", "20' at 180", '');
    await act(page, 'trace paving');
    await typeOnRule(page, 'E 24 N 12', "6' at 0", "6' at 90", "6' at 180", '');
    await page.keyboard.press('Escape');
    await page.locator('#sketch').focus();
    await page.keyboard.press('Home');
    await clickAt(page, 10 * FOOT, 5 * FOOT);
    await page.getByRole('heading', { name: 'House' }).waitFor();

    const from = await onScreen(page, 20 * FOOT, 10 * FOOT);
    const to = await onScreen(page, 24 * FOOT, 12 * FOOT);
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(to.x - 20, to.y + 10);
    await page.mouse.move(to.x - 2, to.y + 2);
    expect(await page.locator('.rule-catch').textContent()).toBe('end of Paving');
    await page.mouse.up();
    expect(inFeet((await shapeOf(page)).rings?.[0])).toEqual([
      [0, 0],
      [20, 0],
      [24, 12],
      [0, 10],
    ]);

    await clickAt(page, 10 * FOOT, 0);
    const slip = page.getByRole('region', { name: 'Edge' });
    expect(await slip.getByRole('heading').textContent()).toContain("20'");
    await page.mouse.dblclick(...(Object.values(await onScreen(page, 8 * FOOT, 0)) as [number, number]));
    expect((await shapeOf(page)).rings?.[0]).toHaveLength(5);
    await page.keyboard.press('Delete');
    expect((await shapeOf(page)).rings?.[0]).toHaveLength(4);

    await clickAt(page, 10 * FOOT, 0);
    await slip.getByLabel('Arc height').fill("2'");
    await slip.getByLabel('Arc height').press('Enter');
    const bent = await shapeOf(page);
    expect(bent.arcs?.map((arc) => arc.sagittaM)).toEqual([expect.closeTo(2 * FOOT, 9)]);
    // An arc of 2 ft over 20 ft stands furthest out in its middle: 2 ft below the wall.
    expect(Math.min(...(bent.rings?.[0] ?? []).map(({ y }) => y))).toBeCloseTo(-2 * FOOT, 3);
    await page.keyboard.press('Control+z');
    expect((await shapeOf(page)).arcs).toBeUndefined();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('of a walk: the places its middle leads through, and its width', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await act(page, 'draw a walk');
    await typeOnRule(page, 'E 0 N 0', "12' at 0", "9' at 90", '');
    await page.keyboard.press('Escape');
    await page.locator('#sketch').focus();
    await page.keyboard.press('Home');
    await clickAt(page, 6 * FOOT, 1 * FOOT);
    await page.getByRole('heading', { name: 'Walk' }).waitFor();
    const from = await onScreen(page, 12 * FOOT, 9 * FOOT);
    const to = await onScreen(page, 16 * FOOT, 9 * FOOT);
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.keyboard.down('Alt');
    await page.mouse.move(to.x, to.y, { steps: 3 });
    await page.mouse.up();
    await page.keyboard.up('Alt');
    const [, , end] = inFeet((await shapeOf(page)).path);
    expect(end?.[0]).toBeCloseTo(16, 0);
    expect(end?.[1]).toBeCloseTo(9, 0);
    await page.getByLabel('Width').fill("5'");
    await page.getByLabel('Width').press('Enter');
    expect((await shapeOf(page)).widthM).toBeCloseTo(5 * FOOT, 9);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('bends of a line: fence, buried line, header led by hand', () => {
  it.each(LINES)(
    '$trace, by mouse: an end is caught, a bend put in and taken out, an edge made an arc',
    async ({ map, trace, name }) => {
      const { page, context, complaints } = await startEmpty(bench);
      await act(page, 'trace a building');
      await typeOnRule(page, 'E 30 N 10', "10' at 0", "8' at 90", "10' at 180", '');
      await act(page, trace);
      await typeOnRule(page, 'E 0 N 0', "20' at 0", "12' at 90", '');
      await page.keyboard.press('Escape');
      await page.locator('#sketch').focus();
      await page.keyboard.press('Escape');
      await page.keyboard.press('Home');
      // Chosen by a press on the line, its end is dragged to the corner of the house, which it catches.
      await clickAt(page, 10 * FOOT, 0);
      await page.locator('.contents-line.is-chosen', { hasText: name }).waitFor({ state: 'attached' });
      const end = await onScreen(page, 20 * FOOT, 12 * FOOT);
      const house = await onScreen(page, 30 * FOOT, 10 * FOOT);
      await page.mouse.move(end.x, end.y);
      await page.mouse.down();
      await page.mouse.move(house.x - 12, house.y + 9);
      await page.mouse.move(house.x - 3, house.y - 2);
      expect(await page.locator('.rule-catch').textContent()).toBe('end of House');
      await page.mouse.up();
      expect(inFeet((await lineOf(page, map)).path)).toEqual([
        [0, 0],
        [20, 0],
        [30, 10],
      ]);
      // One press chooses the edge, two put a bend into it.
      const along = await onScreen(page, 8 * FOOT, 0);
      await page.mouse.click(along.x, along.y);
      await page.getByRole('region', { name: 'Edge' }).waitFor();
      await page.mouse.dblclick(along.x, along.y);
      const [, bend] = inFeet((await lineOf(page, map)).path);
      expect(bend?.[0]).toBeCloseTo(8, 0);
      expect(await lastDone(page)).toContain('add a corner');
      await page.locator('#sketch').focus();
      await page.keyboard.press('Delete');
      expect((await lineOf(page, map)).path).toHaveLength(3);

      await clickAt(page, 10 * FOOT, 0);
      const slip = page.getByRole('region', { name: 'Edge' });
      await slip.getByLabel('Arc height').fill("3'");
      await slip.getByLabel('Arc height').press('Enter');
      const bent = await lineOf(page, map);
      expect(bent.arcs?.map((arc) => arc.sagittaM)).toEqual([expect.closeTo(3 * FOOT, 9)]);
      // Furthest from its chord an arc of 3 ft over 20 ft stands 3 ft off it, south of a way that goes east.
      expect(Math.min(...bent.path.map(({ y }) => y))).toBeCloseTo(-3 * FOOT, 2);
      await page.keyboard.press('Control+z');
      expect((await lineOf(page, map)).arcs).toBeUndefined();
      expect(complaints).toEqual([]);
      await context.close();
    },
  );

  it.each(LINES)(
    '$trace, by keyboard alone: bends are walked, moved, written, put in and taken out',
    async ({ map, trace, name }) => {
      const { page, context, complaints } = await startEmpty(bench);
      await act(page, trace);
      await typeOnRule(page, 'E 0 N 0', "20' at 0", "12' at 90", '');
      await page.keyboard.press('Escape');
      await page.keyboard.press('>');
      await page.keyboard.press('>');
      expect(await chosen(page).textContent()).toBe(`Corner 2 of 3 of ${name}, east 20'-0", north 0'-0"`);
      await page.keyboard.press('ArrowUp');
      const moved = inFeet((await lineOf(page, map)).path)[1];
      expect(moved?.[0]).toBe(20);
      expect(moved?.[1]).toBeGreaterThan(0);
      await page.keyboard.press('Shift+Insert');
      expect(await chosen(page).textContent()).toContain(`Edge 2 of 2 of ${name}`);
      await page.keyboard.press('Insert');
      expect((await lineOf(page, map)).path).toHaveLength(4);
      expect(await chosen(page).textContent()).toContain(`Corner 3 of 4 of ${name}`);
      await page.keyboard.press('Delete');
      await page.keyboard.press('>');
      await page.keyboard.press('Delete');
      expect((await lineOf(page, map)).path).toHaveLength(2);
      // A line has two ends: neither can be taken away, and the desk says so.
      await page.keyboard.press('>');
      await page.keyboard.press('Delete');
      await page.getByText('The line has two ends').waitFor();
      expect((await lineOf(page, map)).path).toHaveLength(2);
      expect(complaints).toEqual([]);
      await context.close();
    },
  );
});

describe('corners of what was drawn, by keyboard alone', () => {
  it('of an obstacle: walked, moved, written to size, put in, taken away, bent; each is named and spoken', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await act(page, 'trace an obstacle');
    await typeOnRule(page, 'E 0 N 0', "8' at 0", "6' at 90", "8' at 180", '');
    await page.keyboard.press('Escape');
    await page.keyboard.press('.');
    expect(await chosen(page).textContent()).toContain('Obstacle');
    await page.keyboard.press('>');
    await page.keyboard.press('>');
    expect(await chosen(page).textContent()).toBe('Corner 2 of 4 of Obstacle, east 8\'-0", north 0\'-0"');
    await page.keyboard.press('ArrowRight');
    const moved = inFeet((await shapeOf(page)).rings?.[0])[1];
    expect(moved?.[0]).toBeGreaterThan(8);
    expect(await lastDone(page)).toContain('move a corner: Obstacle');

    await page.getByLabel('Corner 2, east').fill("9'");
    await page.getByLabel('Corner 2, east').press('Enter');
    expect(inFeet((await shapeOf(page)).rings?.[0])[1]).toEqual([9, 0]);

    await page.locator('#sketch').focus();
    await page.keyboard.press('Shift+Insert');
    expect(await chosen(page).textContent()).toContain('Edge 2 of 4 of Obstacle');
    await page.keyboard.press('Insert');
    expect(inFeet((await shapeOf(page)).rings?.[0])).toEqual([
      [0, 0],
      [9, 0],
      [8.5, 3],
      [8, 6],
      [0, 6],
    ]);
    expect(await lastDone(page)).toContain('add a corner');
    await page.locator('#sketch').focus();
    await page.keyboard.press('Delete');
    expect((await shapeOf(page)).rings?.[0]).toHaveLength(4);
    expect(await lastDone(page)).toContain('remove a corner');

    await page.getByRole('button', { name: 'Edge 3' }).press('Enter');
    const slip = page.getByRole('region', { name: 'Edge' });
    await slip.getByLabel('Arc height').fill("1'");
    await slip.getByLabel('Arc height').press('Enter');
    expect((await shapeOf(page)).arcs).toHaveLength(1);
    expect(await page.getByRole('button', { name: 'Edge 3' }).textContent()).toContain('arc');
    expect(await lastDone(page)).toContain('change an edge');
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('an arc drawn on a building stays one, and a buried line’s bends are moved', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await act(page, 'trace a building');
    await typeOnRule(page, 'E 0 N 0', "20' at 0");
    await act(page, 'next edge an arc');
    await page.locator('#sketch').focus();
    await typeOnRule(page, "10' at 90", "2'");
    await act(page, 'next edge straight');
    await page.locator('#sketch').focus();
    await typeOnRule(page, "20' at 180", '');
    await page.keyboard.press('Escape');
    const shape = await shapeOf(page);
    expect(shape.arcs?.map((arc) => arc.sagittaM)).toEqual([expect.closeTo(2 * FOOT, 9)]);
    await act(page, 'draw a known buried line');
    await typeOnRule(page, 'E 0 N -4', "20' at 0", "8' at 270", '');
    await page.keyboard.press('Escape');
    await page.keyboard.press('<');
    await page.keyboard.press('ArrowDown');
    const [line] = Object.values((await savedPlan(page)).utilities);
    expect(inFeet(line?.path)[2]?.[1]).toBeLessThan(-12);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
