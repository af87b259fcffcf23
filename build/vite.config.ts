import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

// The PDF writer offers to load three packages for turning web pages into pictures; the sheet needs none of them,
// and leaving them out keeps the bundle small and the content policy strict.
const absent = here('absent.mjs');

export default defineConfig({
  root: here('../src/app'),
  base: './',
  publicDir: false,
  plugins: [react()],
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
