import { spawnSync } from 'node:child_process';
import { join, resolve } from 'node:path';
import { ensurePackages, root } from './install.mjs';

ensurePackages();
const { isStale } = await import('./build.mjs');
if (isStale('dist/cli/main.js')) {
  const { bundleForNode } = await import('./bundle.mjs');
  console.error('Building (once)...');
  await bundleForNode({
    programs: { main: 'src/cli/main.ts' },
    outDir: 'dist/cli',
    external: ['jspdf'],
    holdsAll: true,
  });
}
// Run where the person stood, so that relative paths mean what they typed.
const here = resolve(process.env.INIT_CWD ?? process.cwd());
const result = spawnSync(process.execPath, [join(root, 'dist/cli/main.js'), ...process.argv.slice(2)], {
  cwd: here,
  stdio: 'inherit',
});
process.exit(result.status ?? 1);
