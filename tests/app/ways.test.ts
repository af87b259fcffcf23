import { afterAll, beforeAll, expect, it } from 'vitest';
import { type Bench, setUpBench, visit } from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

it('another way is designed beside the plan, stopped, weighed, and marked stale by an edit', async () => {
  const { page, context, complaints } = await visit(bench);
  await page
    .getByRole('navigation', { name: 'Steps' })
    .getByRole('button', { name: /^Review/ })
    .click();
  const section = page.locator('section', { has: page.getByRole('heading', { name: 'Two ways compared' }) });
  const compare = section.getByRole('button', { name: 'Compare' });
  expect(await compare.isDisabled()).toBe(true);
  await section.getByLabel('Valves').selectOption('one-valve');
  await compare.click();
  await section.getByRole('button', { name: 'Stop' }).waitFor();
  await section.getByRole('button', { name: 'Stop' }).click();
  await compare.click();
  const table = section.locator('[data-role="ways"]');
  await table.waitFor({ timeout: 180_000 });
  await section.locator('img').waitFor({ timeout: 180_000 });
  const valves = await table.locator('tr', { hasText: 'Valves' }).locator('td').allTextContents();
  // The demonstration has three zones; one key puts all beds on one.
  expect(valves.slice(0, 2)).toEqual(['3', '1']);
  if (process.env.RILLSHEET_PICTURES) {
    await section.scrollIntoViewIfNeeded();
    await page.screenshot({ path: `${process.env.RILLSHEET_PICTURES}/ways.png` });
  }
  expect(await section.textContent()).not.toContain('stale');
  await page.getByRole('button', { name: 'Feet, gpm, psi' }).click();
  await section.getByText('stale', { exact: true }).first().waitFor();
  expect(complaints).toEqual([]);
  await context.close();
}, 400_000);
