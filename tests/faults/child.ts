import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** Builds scripts of `tests/faults/children` for plain Node, and gives back their paths by name. */
export async function buildChildren<N extends string>(names: readonly N[]): Promise<Record<N, string>> {
  const folder = mkdtempSync(join(tmpdir(), 'rillsheet-faults-'));
  await build({
    configFile: false,
    root,
    logLevel: 'error',
    ssr: { noExternal: true },
    build: {
      ssr: true,
      outDir: folder,
      target: 'node20',
      minify: false,
      rollupOptions: {
        input: Object.fromEntries(
          names.map((name) => [name, join(root, 'tests/faults/children', `${name}.ts`)]),
        ),
        output: { entryFileNames: '[name].mjs', chunkFileNames: '[name]-[hash].mjs' },
      },
    },
  });
  return Object.fromEntries(names.map((name) => [name, join(folder, `${name}.mjs`)])) as Record<N, string>;
}

/** Starts a built script. What it says on standard output is collected as it comes. */
export function start(
  script: string,
  args: readonly string[],
  flags: readonly string[] = [],
): { readonly child: ChildProcess; readonly said: () => string; readonly ended: Promise<number | string> } {
  const child = spawn(process.execPath, [...flags, script, ...args], { stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  let complained = '';
  child.stdout.on('data', (part) => {
    said += part;
  });
  child.stderr.on('data', (part) => {
    complained = `${complained}${part}`.slice(-4000);
  });
  const ended = new Promise<number | string>((resolve) => {
    child.on('close', (code, signal) => {
      resolve(code === 0 ? 0 : (signal ?? `${code} ${complained}`));
    });
  });
  return { child, said: () => said, ended };
}
