import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { root } from './install.mjs';

const folder = join(root, 'node_modules/electron');
const marker = join(root, 'node_modules/.cache/rillsheet-runtime-not-fetched');
const FETCH_LIMIT_MS = 300_000;

/**
 * The desktop runtime's binary where it is here, or null. The package itself is never loaded: loading it starts a download.
 * RILLSHEET_RUNTIME names another binary, and then the only one that is looked at.
 */
export function findRuntime() {
  const named = process.env.RILLSHEET_RUNTIME;
  if (named !== undefined) return existsSync(named) ? named : null;
  const pathFile = join(folder, 'path.txt');
  if (!existsSync(pathFile)) return null;
  const base = process.env.ELECTRON_OVERRIDE_DIST_PATH ?? join(folder, 'dist');
  const binary = join(base, readFileSync(pathFile, 'utf8').trim());
  return existsSync(binary) ? binary : null;
}

/** Fetches the binary once. A failure is remembered, so that later starts do not wait for it again. */
export function fetchRuntime({ again = false } = {}) {
  if (process.env.RILLSHEET_RUNTIME !== undefined) return null;
  const installer = join(folder, 'install.js');
  if (!existsSync(installer) || (existsSync(marker) && !again)) return null;
  console.log('The desktop runtime is not here yet; fetching it once...');
  const result = spawnSync(process.execPath, [installer], {
    timeout: FETCH_LIMIT_MS,
    encoding: 'utf8',
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  const binary = result.status === 0 ? findRuntime() : null;
  if (binary === null) {
    mkdirSync(join(root, 'node_modules/.cache'), { recursive: true });
    writeFileSync(marker, 'remove this file to try again\n');
  }
  return binary;
}
