import { ensurePackages, run } from './install.mjs';

// The long run of every test in tests/faults, and of the shell's malformed messages: the same seeds, many more faults.
ensurePackages();
process.env.RILLSHEET_FAULTS = 'long';
const suites = [
  ['build/vitest.config.ts', 'tests/faults'],
  ['build/vitest.app.config.ts', 'tests/shell/messages.test.ts'],
];
const statuses = suites.map(
  ([config, tests]) =>
    run('vitest/vitest.mjs', [
      'run',
      '--config',
      config,
      '--test-timeout=3600000',
      tests,
      ...process.argv.slice(2),
    ]).status ?? 1,
);
process.exit(Math.max(...statuses));
