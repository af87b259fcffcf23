import { defineConfig } from 'vitest/config';

// Two cores is the machine we plan for: one worker each, and tests that drive a browser never run beside each other.
export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    exclude: ['tests/app/**', 'tests/shell/**', 'tests/bench/**'],
    // A limit for what hangs, not a claim about speed: a loaded machine is ten times slower.
    testTimeout: 180_000,
    hookTimeout: 240_000,
    pool: 'forks',
    maxWorkers: 2,
    // Modules hold no state between tests, so that files may share them: half of the time went into loading them anew.
    isolate: false,
  },
});
