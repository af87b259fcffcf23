import { defineConfig } from 'vitest/config';

// One browser at a time: two cores are the machine we plan for.
export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['tests/app/**/*.test.ts', 'tests/shell/**/*.test.ts'],
    testTimeout: 240_000,
    hookTimeout: 240_000,
    pool: 'forks',
    fileParallelism: false,
  },
});
