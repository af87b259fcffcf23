import { spawnSync } from 'node:child_process';
import { join, resolve } from 'node:path';
import { ensurePackages, root } from './install.mjs';

ensurePackages();
const { isStale } = await import('./build.mjs');
if (isStale('dist/cli/main.js')) {
  const { build } = await import('vite');
  console.error('Building (once)...');
  await build({
    configFile: false,
    root,
    logLevel: 'error',
    ssr: { noExternal: true, external: ['jspdf'] },
    build: {
      ssr: true,
      outDir: join(root, 'dist/cli'),
      emptyOutDir: true,
      target: 'node20',
      minify: false,
      rollupOptions: { input: join(root, 'src/cli/main.ts'), output: { entryFileNames: 'main.js' } },
    },
  });
}
// Run where the person stood, so that relative paths mean what they typed.
const here = resolve(process.env.INIT_CWD ?? process.cwd());
const result = spawnSync(process.execPath, [join(root, 'dist/cli/main.js'), ...process.argv.slice(2)], {
  cwd: here,
  stdio: 'inherit',
});
process.exit(result.status ?? 1);
