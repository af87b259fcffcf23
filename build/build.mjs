import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ensurePackages, root } from './install.mjs';

const newest = (folder) =>
  readdirSync(folder, { withFileTypes: true }).reduce((time, entry) => {
    const path = join(folder, entry.name);
    return Math.max(time, entry.isDirectory() ? newest(path) : statSync(path).mtimeMs);
  }, 0);

/** True when a built file is missing or older than the sources. */
export function isStale(builtFile) {
  const path = join(root, builtFile);
  if (!existsSync(path)) return true;
  const sources = ['src', 'electron', 'assets', 'build'].map((name) => newest(join(root, name)));
  return Math.max(...sources, statSync(join(root, 'package-lock.json')).mtimeMs) > statSync(path).mtimeMs;
}

/** Builds the page and the shell. */
export async function buildAll() {
  const { build } = await import('vite');
  await build({ configFile: join(root, 'build/vite.config.ts'), logLevel: 'warn' });
  const { buildShell } = await import('./buildShell.mjs');
  await buildShell();
}

/** Builds what is missing or older than its sources. */
export async function ensureBuilt() {
  if (!isStale('dist/app/index.html') && !isStale('dist/host/node.js')) return;
  console.error('Building (once)...');
  await buildAll();
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  ensurePackages();
  await buildAll();
}
