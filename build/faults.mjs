import { ensurePackages, run } from './install.mjs';

// The long run of every test in tests/faults: the same seeds, many more faults.
ensurePackages();
process.env.RILLSHEET_FAULTS = 'long';
const { status } = run('vitest/vitest.mjs', [
  'run',
  '--config',
  'build/vitest.config.ts',
  '--test-timeout=3600000',
  'tests/faults',
  ...process.argv.slice(2),
]);
process.exit(status ?? 1);
