import { bundleForNode } from './bundle.mjs';

/** Bundles what runs beside the page: the loopback host, the desktop shell's main and its preload. */
export async function buildShell() {
  const whole = { external: ['electron'], holdsAll: true, empties: false };
  await bundleForNode({ ...whole, programs: { node: 'src/host/node/index.ts' }, outDir: 'dist/host' });
  await bundleForNode({ ...whole, programs: { main: 'electron/main.ts' }, outDir: 'dist/electron' });
  await bundleForNode({
    ...whole,
    programs: { preload: 'electron/preload.ts' },
    outDir: 'dist/electron',
    ending: 'cjs',
    format: 'cjs',
  });
}
