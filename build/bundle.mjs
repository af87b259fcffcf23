import { join } from 'node:path';
import { build } from 'vite';
import { root } from './install.mjs';

/** Packages whose files only run where they were bundled; every other package is taken from where it is installed. */
const NEED_BUNDLING = ['clipper2-ts', 'flatbush'];

/**
 * Bundles programs for Node out of this project's sources.
 *
 * @param programs  entry file by the name of what comes out, without its ending
 * @param outDir    folder for them, in the project
 * @param external  packages left where they are installed
 * @param holdsAll  true: all else is bundled, so that the program runs without any package beside it
 */
export async function bundleForNode({
  programs,
  outDir,
  external = [],
  holdsAll = false,
  ending = 'js',
  format = 'es',
  empties = true,
}) {
  await build({
    configFile: false,
    root,
    logLevel: 'warn',
    ssr: { external, noExternal: holdsAll ? true : NEED_BUNDLING },
    build: {
      ssr: true,
      outDir: join(root, outDir),
      emptyOutDir: empties,
      target: 'node20',
      minify: false,
      rollupOptions: {
        input: Object.fromEntries(Object.entries(programs).map(([name, entry]) => [name, join(root, entry)])),
        external,
        output: { format, entryFileNames: `[name].${ending}` },
      },
    },
  });
}
