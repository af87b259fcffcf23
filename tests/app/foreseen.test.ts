import { afterAll, beforeAll, expect, it } from 'vitest';
import { type Bench, setUpBench, visit } from './bench';

let bench: Bench;
beforeAll(async () => {
  bench = await setUpBench();
});
afterAll(() => bench.close());

it('what the crew may find follows the design: worked out after it, kept and marked stale by an edit, then new again', async () => {
  const { page, context, complaints } = await visit(bench);
  await page
    .getByRole('navigation', { name: 'Steps' })
    .getByRole('button', { name: /^Review/ })
    .click();
  const section = page
    .locator('section', { has: page.getByRole('heading', { name: 'You measured the pressure: what now' }) })
    .first();
  const table = section.locator('table');
  await table.waitFor({ timeout: 180_000 });
  await expect.poll(() => section.getByText('stale', { exact: true }).count(), { timeout: 60_000 }).toBe(0);
  const before = await table.textContent();
  await page.getByRole('button', { name: 'Feet, gpm, psi' }).click();
  await section.getByText('stale', { exact: true }).first().waitFor();
  if (process.env.RILLSHEET_PICTURES) {
    await section.scrollIntoViewIfNeeded();
    await page.screenshot({ path: `${process.env.RILLSHEET_PICTURES}/foreseen-stale.png` });
  }
  await expect.poll(() => section.getByText('stale', { exact: true }).count(), { timeout: 180_000 }).toBe(0);
  expect(await table.textContent()).not.toBe(before);
  expect(complaints).toEqual([]);
  await context.close();
}, 400_000);
