import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { ensurePackages, run } from './install.mjs';

const usage = `Usage: npm run faults -- [--share N] [TEST ...]
  --share N   the part of the long run that is tried, above 0 and up to 1 (the whole)
  TEST        test files or folders; else tests/faults and the messages to the shell`;

function readArguments() {
  try {
    const { values, positionals } = parseArgs({
      allowPositionals: true,
      options: { share: { type: 'string' } },
    });
    const share = Number(values.share ?? 1);
    if (!(share > 0 && share <= 1)) throw new Error('--share takes a number above 0 and up to 1.');
    return {
      share,
      tests: positionals.length > 0 ? positionals : ['tests/faults', 'tests/shell/messages.test.ts'],
    };
  } catch (error) {
    console.error(`${error.message}\n${usage}`);
    process.exit(2);
  }
}

// The long run of every test in tests/faults: the same seeds, many more faults; what was counted is listed at the end.
const { share, tests } = readArguments();
ensurePackages();
const folder = mkdtempSync(join(tmpdir(), 'rillsheet-counts-'));
const counts = join(folder, 'counts.txt');
process.env.RILLSHEET_FAULTS = 'long';
process.env.RILLSHEET_FAULTS_SHARE = String(share);
process.env.RILLSHEET_FAULTS_COUNTS = counts;
const isOfShell = (test) => /^(\.\/)?tests\/(app|shell)\b/.test(test);
const suites = [
  ['build/vitest.config.ts', tests.filter((test) => !isOfShell(test))],
  ['build/vitest.app.config.ts', tests.filter(isOfShell)],
];
let failed = 0;
for (const [config, named] of suites) {
  if (named.length === 0) continue;
  const limit = '--test-timeout=14400000';
  if (run('vitest/vitest.mjs', ['run', '--config', config, limit, ...named]).status !== 0) failed += 1;
}
try {
  console.log(`\n${readFileSync(counts, 'utf8').split('\n').sort().join('\n').trim()}`);
} catch {
  console.log('Nothing was counted.');
}
rmSync(folder, { recursive: true, force: true });
process.exit(failed === 0 ? 0 : 1);
