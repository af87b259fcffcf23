import { spawnSync } from 'node:child_process';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const hasParallel = spawnSync('parallel', ['--version']).status === 0;
const why = hasParallel ? '' : ' (GNU parallel is not here)';

let folder: string;
const program = join(root, 'dist/cli/main.js');
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'rillsheet-sites-'));
  mkdirSync(join(folder, 'sites'));
  for (const name of ['01-rect10x15ft', '11-triangle'])
    copyFileSync(
      join(root, 'tests/reference/beds', `${name}.geojson`),
      join(folder, 'sites', `${name}.geojson`),
    );
  writeFileSync(join(folder, 'sites', '02-broken.geojson'), '{"type":"FeatureCollection","features":[');
  // Builds the program where it is missing or older than its sources.
  spawnSync(process.execPath, [join(root, 'build/cli.mjs'), '--help']);
}, 180_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe(`many sites handed to a runner${why}`, () => {
  it.runIf(hasParallel)(
    'two at a time: the good ones are designed, the bad one is one failed job, and a second run does only that one again',
    { timeout: 180_000 },
    () => {
      const log = join(folder, 'jobs.log');
      const sites = ['01-rect10x15ft', '02-broken', '11-triangle'].map((name) =>
        join(folder, 'sites', `${name}.geojson`),
      );
      const run = (...more: string[]) =>
        spawnSync(
          'parallel',
          [
            '--will-cite',
            '-j2',
            '--joblog',
            log,
            ...more,
            process.execPath,
            program,
            'design',
            '{}',
            '--only',
            'design.json',
            '--out',
            join(folder, 'out', '{/.}'),
            ':::',
            ...sites,
          ],
          { encoding: 'utf8' },
        );
      // The runner's own exit code is the number of jobs that failed.
      expect(run().status).toBe(1);
      expect(existsSync(join(folder, 'out/01-rect10x15ft/design.json'))).toBe(true);
      expect(existsSync(join(folder, 'out/11-triangle/design.json'))).toBe(true);
      expect(existsSync(join(folder, 'out/02-broken'))).toBe(false);
      copyFileSync(join(root, 'tests/reference/beds/03-L.geojson'), join(folder, 'sites/02-broken.geojson'));
      expect(run('--resume-failed').status).toBe(0);
      expect(existsSync(join(folder, 'out/02-broken/design.json'))).toBe(true);
      const jobs = readFileSync(log, 'utf8').trim().split('\n').slice(1);
      expect(jobs).toHaveLength(4);
    },
  );

  it('or to the program itself: a bad plan is one line of the results, and a second run leaves out what is done', {
    timeout: 180_000,
  }, () => {
    const run = () =>
      spawnSync(
        process.execPath,
        [
          program,
          'design',
          join(folder, 'sites'),
          '--only',
          'design.json',
          '--jobs',
          '2',
          '--out',
          join(folder, 'batch'),
        ],
        { encoding: 'utf8' },
      );
    writeFileSync(join(folder, 'sites', '99-broken.geojson'), '[]');
    const first = run();
    expect(first.status).toBe(3);
    const results = first.stdout
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as { name: string; exitCode: number });
    expect(results.find(({ name }) => name === '99-broken')?.exitCode).toBe(1);
    expect(results.filter(({ exitCode }) => exitCode === 0).length).toBeGreaterThanOrEqual(2);
    const second = run();
    expect(second.stdout.trim()).toBe('');
    expect(second.stderr).toContain('4 of them done before');
  });
});
