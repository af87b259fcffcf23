import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, lstatSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('..', import.meta.url));
const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';

/** Installs the packages of the lock file when they are missing or the lock file has changed since. */
export function ensurePackages() {
  // A linked folder belongs to another checkout: installing here would empty that one.
  if (lstatSync(join(root, 'node_modules'), { throwIfNoEntry: false })?.isSymbolicLink()) return;
  const stamp = join(root, 'node_modules/.cache/rillsheet-lock');
  const wanted = createHash('sha256')
    .update(readFileSync(join(root, 'package-lock.json')))
    .digest('hex');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === wanted) return;
  console.error('Installing packages (once)...');
  const result = spawnSync(npm, ['ci', '--no-audit', '--no-fund'], {
    cwd: root,
    stdio: ['ignore', 2, 2],
    shell: process.platform === 'win32',
  });
  if (result.status !== 0) {
    console.error('The packages could not be installed. Check the network and run the command again.');
    process.exit(1);
  }
  mkdirSync(join(root, 'node_modules/.cache'), { recursive: true });
  writeFileSync(stamp, wanted);
}

/** Runs a program of the installed packages, its output shown. */
export function run(program, args, options = {}) {
  return spawnSync(process.execPath, [join(root, 'node_modules', program), ...args], {
    cwd: root,
    stdio: 'inherit',
    ...options,
  });
}
