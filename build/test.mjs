import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ensurePackages, root, run } from './install.mjs';
import { ensureSystemPackages } from './systemPackages.mjs';

/** The one thing that may be missing without failing the run: the desktop runtime's own binary. */
const ALLOWED_SKIPS = [/desktop runtime binary/i];

ensurePackages();
ensureSystemPackages();
mkdirSync(join(root, 'dist'), { recursive: true });

const suites = [
  { name: 'core, exchange, command line', config: 'build/vitest.config.ts' },
  { name: 'browser and shell', config: 'build/vitest.app.config.ts' },
].filter((suite) => existsSync(join(root, suite.config)));

const total = { passed: 0, failed: 0, skipped: 0 };
const badSkips = [];
const steps = [
  ['types', 'typescript/bin/tsc', ['--noEmit']],
  ['types of core alone', 'typescript/bin/tsc', ['--noEmit', '-p', 'build/tsconfig.core.json']],
  ['style', '@biomejs/biome/bin/biome', ['check', '--config-path=build/lint.json', '.']],
];
for (const [name, program, args] of steps) {
  const ok = run(program, args).status === 0;
  console.log(`${ok ? 'ok  ' : 'FAIL'} ${name}`);
  total[ok ? 'passed' : 'failed'] += 1;
}
for (const suite of suites) {
  const file = join(root, 'dist', `tests-${suites.indexOf(suite)}.json`);
  const status = run('vitest/vitest.mjs', [
    'run',
    '--config',
    suite.config,
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${file}`,
  ]).status;
  const report = existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : null;
  if (report === null) {
    total.failed += 1;
    continue;
  }
  total.passed += report.numPassedTests;
  total.failed += report.numFailedTests;
  if (status !== 0 && report.numFailedTests === 0) total.failed += 1;
  for (const result of report.testResults) {
    for (const test of result.assertionResults) {
      if (test.status !== 'pending' && test.status !== 'skipped' && test.status !== 'todo') continue;
      total.skipped += 1;
      console.log(`skipped: ${test.fullName}`);
      if (!ALLOWED_SKIPS.some((allowed) => allowed.test(test.fullName))) badSkips.push(test.fullName);
    }
  }
}
if (badSkips.length > 0) {
  console.log(`A skip that is not allowed counts as a failure:\n  ${badSkips.join('\n  ')}`);
  total.failed += badSkips.length;
}
console.log(`${total.passed} passed, ${total.failed} failed`);
process.exit(total.failed > 0 || total.passed === 0 ? 1 : 0);
