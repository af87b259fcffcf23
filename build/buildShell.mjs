import { join } from 'node:path';
import { build } from 'vite';
import { root } from './install.mjs';

const quiet = { configFile: false, root, logLevel: 'warn' };

/** Bundles what runs beside the page: the loopback host, the desktop shell's main and its preload. */
export async function buildShell() {
  const node = (entry, outDir, fileName, format) =>
    build({
      ...quiet,
      ssr: { noExternal: true },
      build: {
        ssr: true,
        outDir: join(root, outDir),
        emptyOutDir: false,
        target: 'node20',
        minify: false,
        rollupOptions: {
          input: join(root, entry),
          external: ['electron'],
          output: { format, entryFileNames: fileName },
        },
      },
    });
  await node('src/host/node/index.ts', 'dist/host', 'node.js', 'es');
  await node('electron/main.ts', 'dist/electron', 'main.js', 'es');
  await node('electron/preload.ts', 'dist/electron', 'preload.cjs', 'cjs');
}
