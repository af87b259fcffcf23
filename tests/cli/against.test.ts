import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { runDesign } from '../../src/cli/designCommand';
import { fonts, openPdf } from '../render/readBack';

const bed = fileURLToPath(new URL('../reference/beds/01-rect10x15ft.geojson', import.meta.url));
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-ways-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

async function run(against: string): Promise<{ code: number; progress: string }> {
  let progress = '';
  const code = await runDesign(
    {
      file: bed,
      against,
      out: join(folder, 'out'),
      units: null,
      paper: null,
      scaleDenominator: null,
      only: ['takeoff.csv'],
      json: false,
      strict: false,
      force: false,
    },
    { out: () => undefined, progress: (text) => (progress += text), readFonts: async () => fonts },
  );
  return { code, progress };
}

test('a bed against itself with rows at 24 in: the table, the data and the page say it takes less tubing', async () => {
  const wider = join(folder, 'wider.geojson');
  // 24 in is 0.6096 m, 18 in 0.4572 m.
  writeFileSync(wider, readFileSync(bed, 'utf8').replace('"rowSpacingM":0.4572', '"rowSpacingM":0.6096'));
  await run(wider);
  const out = join(folder, 'out');
  expect(
    readdirSync(out)
      .filter((name) => !name.startsWith('.'))
      .sort(),
  ).toEqual(['takeoff.csv', 'ways.csv', 'ways.json', 'ways.pdf']);
  const data = JSON.parse(readFileSync(join(out, 'ways.json'), 'utf8')) as {
    first: { name: string; figures: { tubingM: number; valves: number }; runs: unknown[] };
    second: { name: string; figures: { tubingM: number; valves: number }; runs: unknown[] };
  };
  expect([data.first.name, data.second.name]).toEqual(['01-rect10x15ft', 'wider']);
  expect(data.second.figures.tubingM).toBeLessThan(data.first.figures.tubingM);
  expect(data.first.runs.length).toBeGreaterThan(0);
  expect(readFileSync(join(out, 'ways.csv'), 'utf8')).toContain('01-rect10x15ft,wider,difference');
  const doc = await openPdf(new Uint8Array(readFileSync(join(out, 'ways.pdf'))));
  expect(doc.numPages).toBe(1);
}, 120_000);

test('a second plan that cannot be read writes nothing and is named', async () => {
  const broken = join(folder, 'broken.geojson');
  writeFileSync(broken, '{');
  const { code, progress } = await run(broken);
  expect(code).toBe(1);
  expect(progress).toContain('broken.geojson');
  expect(readdirSync(folder)).toEqual(['broken.geojson']);
}, 120_000);
