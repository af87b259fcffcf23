import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';
import { ACTIONS } from '../src/app/actions/table';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

// The PDF writer offers to load three packages for turning web pages into pictures; the sheet needs none of them,
// and leaving them out keeps the bundle small and the content policy strict.
const absent = here('absent.mjs');

// The shell's native menus come from the app's own table, written beside the page as data.
const menuActions: Plugin = {
  name: 'menu-actions',
  generateBundle() {
    const actions = ACTIONS.map(({ key, name, group, keys }) => ({
      key,
      label: name,
      menu: group === 'Plan' ? 'File' : group,
      ...(keys.includes('Mod+') ? { accelerator: keys.replace('Mod', 'CmdOrCtrl') } : {}),
    }));
    this.emitFile({ type: 'asset', fileName: 'actions.json', source: JSON.stringify(actions) });
  },
};

export default defineConfig({
  root: here('../src/app'),
  base: './',
  publicDir: false,
  plugins: [react(), menuActions],
  resolve: { alias: { html2canvas: absent, dompurify: absent, canvg: absent } },
  worker: { format: 'es' },
  server: { fs: { allow: [here('..'), here('../node_modules')] } },
  build: {
    outDir: here('../dist/app'),
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    chunkSizeWarningLimit: 2000,
    modulePreload: { polyfill: false },
  },
});
