import { resolve } from 'node:path';

/** The plan named on a command line typed in `folder`, if there is one. */
export function planPathIn(args: readonly string[], folder: string): string | null {
  const named = args.slice(1).find((arg) => /\.(json|geojson)$/i.test(arg) && !arg.startsWith('-'));
  return named === undefined ? null : resolve(folder, named);
}
