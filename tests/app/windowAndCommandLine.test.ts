import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Bench, setUpBench, startEmpty } from './bench';

const root = fileURLToPath(new URL('../..', import.meta.url));
const BEDS = join(root, 'tests/reference/beds');
/** Beds opened in every run: a plain one, one in two parts, and one alike left and right, where engines once parted. */
const FEW = '01,10,26';
/** `RILLSHEET_BEDS` names others by how they begin, `01,16`, or `all`. */
const chosen = (process.env.RILLSHEET_BEDS ?? FEW).split(',');
const isChosen = (name: string): boolean =>
  name.endsWith('.geojson') && chosen.some((start) => start === 'all' || name.startsWith(start));
const files = [
  ...readdirSync(BEDS)
    .filter(isChosen)
    .map((name) => join(BEDS, name)),
  join(root, 'assets/demonstration.rillsheet.json'),
];
const FINISH_MS = 600_000;

let bench: Bench;
let folder: string;
beforeAll(async () => {
  bench = await setUpBench();
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-both-'));
});
afterAll(async () => {
  await bench.close();
  rmSync(folder, { recursive: true, force: true });
});

/** The outputs of the command line, or null where it refuses the file. */
function byCommand(file: string): Readonly<Record<string, string>> | null {
  const out = join(folder, basename(file));
  const { status } = spawnSync(
    process.execPath,
    [join(root, 'build/cli.mjs'), 'design', file, '--out', out, '--only', 'design.json,takeoff.csv,cuts.csv'],
    { cwd: root, encoding: 'utf8' },
  );
  if (status === 1) return null;
  return Object.fromEntries(readdirSync(out).map((name) => [name, readFileSync(join(out, name), 'utf8')]));
}

async function openInWindow(page: Page, file: string): Promise<void> {
  const chooser = page.waitForEvent('filechooser');
  await page.keyboard.press('Control+o');
  await (await chooser).setFiles(file);
}

/** One output of the window, asked for by its name in the list of actions. */
async function fromWindow(page: Page, actionName: string): Promise<string> {
  const saved = page.waitForEvent('download');
  await page.keyboard.press('F3');
  await page.keyboard.type(actionName);
  await page.keyboard.press('Enter');
  return readFileSync((await (await saved).path()) ?? '', 'utf8');
}

describe('window and command line', () => {
  for (const file of files) {
    it(`give the same topology and the same digits: ${basename(file)}`, {
      timeout: 2 * FINISH_MS,
    }, async () => {
      const command = byCommand(file);
      const { page, context } = await startEmpty(bench);
      await openInWindow(page, file);
      if (command === null) {
        // No bed of it can be laid: the command ends there, the window shows the plan and says why beside its tubing.
        await page.keyboard.press('Alt+4');
        await page.locator('.findings .ink-stop').first().waitFor();
        await context.close();
        return;
      }
      const design = JSON.parse(command['design.json'] ?? '') as {
        beds: { id: string; runs: { lengthM: number; role: string; emitters: number[] }[] }[];
        zones: { id: string }[];
      };
      // The empty plan was finished as well: the file's plan is there once its name is.
      await page
        .locator('.head')
        .getByText('Untitled plan')
        .waitFor({ state: 'detached', timeout: FINISH_MS });
      await page.locator('body[data-design="finished"]').waitFor({ timeout: FINISH_MS });
      const seen = JSON.parse(await fromWindow(page, 'Design as JSON')) as typeof design;
      const topology = (one: typeof design) =>
        one.beds.map((bed) => [bed.id, bed.runs.map((run) => [run.role, run.emitters.length])]);
      expect(topology(seen)).toEqual(topology(design));
      expect(seen).toEqual(design);
      expect(await fromWindow(page, 'Takeoff as CSV')).toBe(command['takeoff.csv']);
      expect(await fromWindow(page, 'Cut list as CSV')).toBe(command['cuts.csv']);
      await context.close();
    });
  }
});
