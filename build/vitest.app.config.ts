import { defineConfig } from 'vitest/config';

// One browser at a time: two cores are the machine we plan for.
export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  // The built shell runs unchanged; only the desktop runtime's own module is played.
  resolve: { alias: { electron: new URL('../tests/shell/standIn/electron.ts', import.meta.url).pathname } },
  test: {
    globalSetup: ['tests/app/buildOnce.ts'],
    include: ['tests/app/**/*.test.ts', 'tests/shell/**/*.test.ts'],
    testTimeout: 240_000,
    hookTimeout: 240_000,
    pool: 'forks',
    fileParallelism: false,
  },
});
