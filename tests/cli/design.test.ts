import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type DesignCommandOptions, runDesign } from '../../src/cli/designCommand';
import { FONT_FILES, type FontBytes } from '../../src/render';
import { asPlainUser } from '../host/plainUser';

const root = fileURLToPath(new URL('../..', import.meta.url));
const bed = join(root, 'tests/reference/beds/01-rect10x15ft.geojson');
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-cli-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const readFonts = async (): Promise<FontBytes> =>
  Object.fromEntries(
    Object.entries(FONT_FILES).map(([font, file]) => [
      font,
      new Uint8Array(readFileSync(join(root, 'assets/fonts', file))),
    ]),
  );

async function run(
  changes: Partial<DesignCommandOptions>,
): Promise<{ code: number; out: string; progress: string }> {
  let out = '';
  let progress = '';
  const code = await runDesign(
    {
      file: bed,
      out: join(folder, 'out'),
      units: null,
      paper: null,
      scaleDenominator: null,
      only: null,
      json: false,
      strict: false,
      force: false,
      ...changes,
    },
    { out: (text) => (out += text), progress: (text) => (progress += text), readFonts },
  );
  return { code, out, progress };
}
const contents = (path: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(path).map((name) => [name, readFileSync(join(path, name)).toString('base64')]),
  );

describe('the design command', () => {
  it("counts the user's own part in place of the typical one, and refuses a parts file with a fault", async () => {
    const parts = join(root, 'assets/schema/examples/parts.json');
    const { progress } = await run({ parts, only: ['takeoff.csv'] });
    expect(progress).not.toContain('cannot be used');
    const takeoff = readFileSync(join(folder, 'out/takeoff.csv'), 'utf8');
    expect(takeoff).toContain('Tubing staple, 8 in');
    expect(takeoff).not.toContain('Tubing staple, 6 in');
    const broken = join(folder, 'parts.csv');
    writeFileSync(broken, 'kind,id,name,use,lossK,packOf\nfitting,x,X,staple,much,1\n');
    const refused = await run({ parts: broken, out: join(folder, 'other') });
    expect(refused.code).toBe(1);
    expect(refused.progress).toContain('line 2');
    expect(existsSync(join(folder, 'other'))).toBe(false);
  });

  it('designs the 10 x 15 ft loam bed: one closed loop, one low-flow assembly, the rule of thumb beside the routed length', async () => {
    const { code, out } = await run({ json: true });
    expect(code).toBe(0);
    const { design } = JSON.parse(out) as {
      design: {
        beds: {
          runs: { role: string; closed: boolean; lengthM: number; path: [number, number][] }[];
          ruleOfThumbLengthM: number;
        }[];
        zones: { assembly: { class: string } }[];
        findings: { rule: string; message: string }[];
      };
    };
    const loops = design.beds[0]?.runs.filter((each) => each.role === 'loop') ?? [];
    expect(loops.length).toBe(1);
    expect(loops[0]?.closed).toBe(true);
    expect(loops[0]?.path[0]).toEqual(loops[0]?.path.at(-1));
    expect(design.zones.map((zone) => zone.assembly.class)).toEqual(['low-flow']);
    // By hand: 150 ft2 x 12 / 18 in = 100 ft = 30.48 m.
    expect(design.beds[0]?.ruleOfThumbLengthM).toBeCloseTo(30.48, 3);
    expect(design.findings.find((finding) => finding.rule === 'layout.rule-of-thumb')?.message).toContain(
      '100.0 ft',
    );
  });

  it('gives the same bytes twice', async () => {
    expect((await run({ out: join(folder, 'a') })).code).toBe(0);
    expect((await run({ out: join(folder, 'b') })).code).toBe(0);
    expect(contents(join(folder, 'b'))).toEqual(contents(join(folder, 'a')));
  });

  it("a folder with a stranger's file is refused untouched, even with --force", async () => {
    mkdirSync(join(folder, 'out'));
    writeFileSync(join(folder, 'out', 'letters.txt'), 'mine');
    for (const force of [false, true]) expect((await run({ force })).code).toBe(2);
    expect(contents(join(folder, 'out'))).toEqual({ 'letters.txt': Buffer.from('mine').toString('base64') });
  });

  it('outputs of an earlier run are replaced only with --force, and what is not made again goes', async () => {
    expect((await run({})).code).toBe(0);
    const before = contents(join(folder, 'out'));
    expect((await run({ only: ['design.json'] })).code).toBe(2);
    expect(contents(join(folder, 'out'))).toEqual(before);
    expect((await run({ only: ['design.json'], force: true })).code).toBe(0);
    expect(readdirSync(join(folder, 'out')).sort()).toEqual(['.rillsheet-outputs.json', 'design.json']);
  });

  it('a missing file, an unknown output and a file in place of the folder are each named, and nothing is written', async () => {
    const missing = await run({ file: join(folder, 'nowhere.geojson') });
    expect([missing.code, missing.progress.includes('nowhere.geojson')]).toEqual([1, true]);
    expect((await run({ only: ['plan.dwarf'] })).code).toBe(2);
    writeFileSync(join(folder, 'plain'), '');
    expect((await run({ out: join(folder, 'plain') })).code).toBe(2);
    expect((await run({ out: join(folder, 'plain', 'inside') })).code).toBe(2);
    expect(readdirSync(folder)).toEqual(['plain']);
  });

  it('a folder that may not be written is named, and nothing is left half-made', async () => {
    const closed = join(folder, 'closed');
    mkdirSync(closed);
    chmodSync(closed, 0o500);
    const file = join(folder, 'bed.geojson');
    copyFileSync(bed, file);
    const { code, progress } = await asPlainUser(folder, () =>
      run({ file, out: join(closed, 'out'), only: ['design.json'] }),
    );
    expect(code).toBe(2);
    expect(progress).toContain('closed');
    expect(readdirSync(folder).sort()).toEqual(['bed.geojson', 'closed']);
    expect(readdirSync(closed)).toEqual([]);
  });

  it('a bed too small for any tubing ends with its reason and no folder', async () => {
    const { code, progress } = await run({
      file: join(root, 'tests/reference/beds/32-hostile-too-small.geojson'),
    });
    expect(code).toBe(1);
    expect(progress).toContain('32-hostile-too-small');
    expect(existsSync(join(folder, 'out'))).toBe(false);
  });

  it('designs a table of points and its own drawing again: the guesses are said, and the bed keeps its size', async () => {
    const table = join(folder, 'corners.csv');
    writeFileSync(table, 'name,x,y,bed\n1,0,0,North\n2,20,0,North\n3,20,10,North\n4,0,10,North\n');
    const guessed = await run({ file: table, only: ['plan.dxf'], out: join(folder, 'guessed') });
    expect(guessed.out).toContain('4 points were read in m.');
    const only = ['plan.dxf', 'design.json'];
    const given = await run({ file: table, only, out: join(folder, 'given'), read: { unit: 'ft' } });
    expect([given.code, given.out.includes('4 points were read in ft.')]).toEqual([0, true]);
    const drawing = await run({
      file: join(folder, 'given/plan.dxf'),
      only,
      out: join(folder, 'drawing'),
      read: { layers: { NOWHERE: 'bed' } },
    });
    expect(drawing.code).toBe(0);
    expect(drawing.out).toContain('The drawing says its unit is m.');
    expect(drawing.out).toMatch(/is taken as: bed\. \[plan\.dxf, BED\]/);
    expect(drawing.out).toMatch(/holds nothing here\. \[plan\.dxf, NOWHERE\]/);
    // 20 ft x 10 ft = 18.580608 m2, exact.
    const { beds } = JSON.parse(readFileSync(join(folder, 'drawing/design.json'), 'utf8'));
    expect(beds[0].areaM2).toBeCloseTo(18.580608, 4);
  });
});
