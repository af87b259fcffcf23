import { fileURLToPath } from 'node:url';
import { build } from 'vite';

/** Builds the app once for all files of a run; each opens that build. */
export async function setup(): Promise<void> {
  const configFile = fileURLToPath(new URL('../../build/vite.config.ts', import.meta.url));
  await build({ configFile, logLevel: 'error' });
  process.env.RILLSHEET_BUILT = 'yes';
}
