import { readFileSync } from 'node:fs';
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
  tabTo,
  typeOnRule,
} from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

const FOOT = 0.3048;

interface Place {
  readonly x: number;
  readonly y: number;
}
interface Drawn {
  readonly role: string;
  readonly zoneKey: string | null;
  readonly path: readonly Place[];
  readonly pipeId: string | null;
}
const drawnPipes = async (page: Page): Promise<readonly Drawn[]> =>
  Object.values(
    (JSON.parse((await saveText(page)).toString()) as { lockedPipes: Record<string, Drawn> }).lockedPipes,
  );

interface Designed {
  readonly zones: readonly {
    readonly pipes: readonly { readonly path: readonly (readonly [number, number])[] }[];
  }[];
  readonly findings: readonly { readonly rule: string; readonly message: string }[];
}
/** The design as the desk writes it. */
async function designed(page: Page): Promise<Designed> {
  await settled(page);
  const written = page.waitForEvent('download');
  await act(page, 'design as json');
  return JSON.parse(readFileSync(await (await written).path(), 'utf8'));
}

const lengthM = ({ zones }: Designed): number =>
  zones
    .flatMap(({ pipes }) => pipes)
    .reduce(
      (sum, { path }) =>
        sum +
        path
          .slice(1)
          .reduce((own, [x, y], index) => own + Math.hypot(x - path[index]![0], y - path[index]![1]), 0),
      0,
    );

const feet = (path: readonly Place[]): (readonly [number, number])[] =>
  path.map(({ x, y }) => [Math.round((x / FOOT) * 100) / 100, Math.round((y / FOOT) * 100) / 100] as const);

/** Water in the south-west, a bed east of it and another north of that one, both on one valve. */
async function twoBeds(page: Page): Promise<void> {
  await act(page, 'draw a rectangular bed');
  await typeOnRule(page, 'E 20 N 0', "12' x 8'", 'E 20 N 16', "12' x 8'");
  await act(page, 'place the connection');
  await typeOnRule(page, 'E 0 N 0');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Alt+5');
  await page.locator('#sketch').focus();
  await page.keyboard.press('Escape');
  await page.keyboard.press('Home');
  await settled(page);
}

describe('a header led by hand', () => {
  it('by mouse: drawn from the valve with catches, joined to its beds, changed by its corners, and found again', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await twoBeds(page);
    const found = await designed(page);
    const [startX, startY] = found.zones[0]!.pipes[0]!.path[0]!;
    await page
      .getByRole('toolbar', { name: 'Acts' })
      .getByRole('button', { name: 'Header', exact: true })
      .click();
    const start = await onScreen(page, startX, startY);
    await page.mouse.move(start.x + 3, start.y + 2);
    expect(await page.locator('.rule-catch').textContent()).toBe('end of the valve assembly of zone 1');
    await page.mouse.click(start.x + 3, start.y + 2);
    await page.keyboard.down('Alt');
    await clickAt(page, 12 * FOOT, -6 * FOOT);
    const last = await onScreen(page, 17 * FOOT, -6 * FOOT);
    await page.mouse.dblclick(last.x, last.y);
    await page.keyboard.up('Alt');
    await page.keyboard.press('Escape');
    await page.getByRole('heading', { name: 'Header by hand 1' }).waitFor();
    const [drawn] = await drawnPipes(page);
    expect(drawn?.role).toBe('header');
    expect(drawn?.path[0]?.x).toBeCloseTo(startX, 3);
    expect(feet(drawn!.path).map(([, north]) => Math.round(north))).toEqual([
      Math.round(startY / FOOT),
      -6,
      -6,
    ]);
    await settled(page);
    expect(await page.getByRole('row', { name: /header .* by hand/ }).count()).toBeGreaterThan(0);
    // Led round by the south it is longer than the way that was found; both beds still hang on it.
    const led = await designed(page);
    expect(lengthM(led)).toBeGreaterThan(lengthM(found) + 1);
    expect(led.findings.filter(({ rule }) => rule.startsWith('supply.no-way'))).toEqual([]);

    // The southernmost bend is dragged further: the pipe follows.
    const bend = await onScreen(page, 12 * FOOT, -6 * FOOT);
    const to = await onScreen(page, 12 * FOOT, -9 * FOOT);
    await page.mouse.move(bend.x, bend.y);
    await page.mouse.down();
    await page.keyboard.down('Alt');
    await page.mouse.move(to.x, to.y, { steps: 3 });
    await page.mouse.up();
    await page.keyboard.up('Alt');
    const [bent] = await drawnPipes(page);
    expect(feet(bent!.path)[1]?.[1]).toBeCloseTo(-9, 0);
    expect(lengthM(await designed(page))).toBeGreaterThan(lengthM(led));

    await page.getByRole('button', { name: 'Free headers' }).click();
    expect(await drawnPipes(page)).toEqual([]);
    expect(lengthM(await designed(page))).toBeCloseTo(lengthM(found), 6);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('by keyboard: what was found is kept, its bend is moved, led through a shed it is a finding, and one press mends it', async () => {
    const { page, context, complaints } = await startEmpty(bench);
    await twoBeds(page);
    const found = await designed(page);
    await act(page, 'keep the headers as found');
    const kept = await drawnPipes(page);
    expect(kept.length).toBeGreaterThan(0);
    const same = await designed(page);
    expect(lengthM(same)).toBeCloseTo(lengthM(found), 6);
    await act(page, 'let the headers be found again');
    expect(await drawnPipes(page)).toEqual([]);

    await act(page, 'lead a header by hand');
    await typeOnRule(page, 'E 5 N 4', 'E 19 N 4', '');
    await page.keyboard.press('Escape');
    await page.keyboard.press('>');
    await page.keyboard.press('>');
    expect(await page.getByRole('status', { name: 'Chosen' }).textContent()).toContain(
      'Corner 2 of 2 of Header by hand 1',
    );
    await tabTo(page, 'Corner 2, north', 'Shift+Tab');
    await page.keyboard.press('Control+a');
    await page.keyboard.type("3'");
    await page.keyboard.press('Enter');
    expect(feet((await drawnPipes(page))[0]!.path)).toEqual([
      [5, 4],
      [19, 3],
    ]);
    await act(page, 'trace an obstacle');
    await typeOnRule(page, 'E 10 N 1', "3' at 0", "5' at 90", "3' at 180", '');
    await page.keyboard.press('Escape');
    const blocked = await designed(page);
    const messages = blocked.findings.filter(({ rule }) => rule === 'supply.drawn-pipe-through');
    expect(messages.map(({ message }) => message)).toEqual([
      expect.stringContaining('Header by hand 1 goes through Obstacle'),
    ]);
    await page.keyboard.press('Alt+5');
    await tabTo(page, /Header by hand 1 goes through/);
    await page.keyboard.press('Enter');
    // The slip has the focus: Close comes first, then its one mend.
    await page.locator('[data-role="finding"]:focus').waitFor();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toContain('Header by hand 1 goes');
    await page.keyboard.press('Enter');
    await page.locator('[data-role="finding"]:focus').waitFor();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    expect(await drawnPipes(page)).toEqual([]);
    expect((await designed(page)).findings.map(({ rule }) => rule)).not.toContain(
      'supply.drawn-pipe-through',
    );
    expect(complaints).toEqual([]);
    await context.close();
  });
});
